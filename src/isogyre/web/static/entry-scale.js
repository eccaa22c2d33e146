// The scale below one or two typed figures. It follows what is typed and may be dragged; the typed
// figure remains the control that is named and read aloud, so the drawing is hidden from readers.

import { decimalsOf, numberOf, share, write } from "./entry-number.js";

// A step that a finger can tell from the next, in px; the room that a mark keeps from the end.
const STEP_PX = 6;
const MARGIN_STEPS = 6;
// Ticks and taps are no closer than this; a move shorter than SLACK_PX is a tap.
const LEAST_TICK_PX = 5;
const SLACK_PX = 5;
const LABEL_PX = 48;
const HANDLE_PX = 44;
const AXIS_PX = 46;
// At the end of the window a dragged handle takes the window with it, so many steps at a time.
const END_PX = 14;
const PULL_MS = 50;
const PULL_STEPS = 2;

const SVG = "http://www.w3.org/2000/svg";

/** @param {string} name @param {Record<string, string | number>} attributes @param {string} [text] */
function drawn(name, attributes, text) {
  const element = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, String(value));
  if (text) element.textContent = text;
  return element;
}

/** @param {number} value @param {number} low @param {number} high */
const within = (value, low, high) => Math.min(high, Math.max(low, value));

/** Draw the scale of a place. @param {HTMLElement} place */
export function drawScale(place) {
  new Scale(place);
}

class Scale {
  /** @param {HTMLElement} place */
  constructor(place) {
    this.inputs = place.dataset.scale.split(" ").map((id) => document.getElementById(id));
    this.names = place.dataset.names.split("|");
    for (const key of ["low", "high", "step", "start", "end"]) this[key] = Number(place.dataset[key]);
    this.decimals = decimalsOf(place.dataset.step);
    this.isPair = this.inputs.length > 1;
    if (this.isPair) share(this.inputs[0], this.inputs[1]);
    this.width = 0;
    /** The stretch of the scale that is seen. */
    this.from = this.start;
    this.to = this.end;
    /** @type {{handle: number, start: number, from: number, moved: boolean, off: number} | null} */
    this.hand = null;
    this.svg = drawn("svg", { class: "scale-drawn", "aria-hidden": "true", width: "100%", height: this.axis + AXIS_PX + (this.isPair ? HANDLE_PX : 0) });
    place.append(this.svg);
    place.hidden = false;
    this.listen();
    // The first size comes when the sheet is opened.
    new ResizeObserver(() => this.resize()).observe(place);
  }

  /** Where the line of the scale lies: below the handle that stands on it. */
  get axis() {
    return HANDLE_PX + 8;
  }

  /** What is typed, NaN where it is nothing on this scale. */
  get values() {
    return this.inputs.map((input) => {
      const value = numberOf(input.value);
      return value >= this.low && value <= this.high ? value : NaN;
    });
  }

  listen() {
    for (const input of this.inputs) input.addEventListener("input", () => this.follow());
    this.svg.addEventListener("pointerdown", (event) => this.take(event));
    this.svg.addEventListener("pointermove", (event) => this.move(event));
    this.svg.addEventListener("pointerup", (event) => this.leave(event));
    // The page is being scrolled: the hand meant the page, not the scale.
    this.svg.addEventListener("pointercancel", () => this.drop());
  }

  resize() {
    this.width = this.svg.getBoundingClientRect().width;
    if (this.width) this.follow();
  }

  /** Show the stretch in which what was read can be told to a step. */
  follow() {
    if (!this.width) return;
    const read = this.values.filter((value) => !Number.isNaN(value));
    if (!this.hand) this.look(read);
    this.draw();
  }

  /** @param {number[]} read */
  look(read) {
    if (!read.length) return this.see(this.start, this.end - this.start);
    const [least, most] = [Math.min(...read), Math.max(...read)];
    const margin = MARGIN_STEPS * this.step;
    const span = Math.min(this.high - this.low, Math.max((this.width / STEP_PX) * this.step, (most - least) * 1.2 + 2 * margin));
    const isFar = Math.abs(this.to - this.from - span) > this.step / 2 || most > this.to || least < this.from;
    if (isFar) return this.see((least + most - span) / 2, span);
    return this.see(within(this.from, most + margin - span, least - margin), span);
  }

  /** @param {number} from @param {number} span */
  see(from, span) {
    this.from = within(from, this.low, Math.max(this.low, this.high - span));
    this.to = this.from + span;
  }

  /** @param {number} value */
  place(value) {
    return ((value - this.from) / (this.to - this.from)) * this.width;
  }

  /** The figure at a place, to a division of the scale. @param {number} x @param {number} division */
  figure(x, division) {
    const value = this.from + (x / this.width) * (this.to - this.from);
    return Math.round(value / division) * division;
  }

  /** The finest division of which each is seen, in steps of 1, 10, 100. @param {number} least px */
  division(least) {
    const px = (this.step / (this.to - this.from)) * this.width;
    return this.step * 10 ** Math.max(0, Math.ceil(Math.log10(least / px) - 1e-9));
  }

  /** @param {PointerEvent} event */
  x(event) {
    return event.clientX - this.svg.getBoundingClientRect().left;
  }

  /** @param {PointerEvent} event */
  take(event) {
    if (event.button !== 0) return;
    const held = event.target.closest("[data-handle]");
    const handle = held ? Number(held.dataset.handle) : -1;
    const x = this.x(event);
    this.hand = { handle, start: x, from: this.from, moved: false, off: held ? x - this.place(this.values[handle]) : 0 };
    this.svg.setPointerCapture(event.pointerId);
    event.preventDefault();
  }

  /** @param {PointerEvent} event */
  move(event) {
    if (!this.hand) return;
    const x = this.x(event);
    this.hand.moved ||= Math.abs(x - this.hand.start) > SLACK_PX;
    if (!this.hand.moved) return;
    clearInterval(this.pulling);
    if (this.hand.handle < 0) this.slide(x);
    else this.drag(x);
  }

  /** Move the scale under the window. @param {number} x */
  slide(x) {
    const span = this.to - this.from;
    this.see(this.hand.from - ((x - this.hand.start) / this.width) * span, span);
    this.draw();
  }

  /** @param {number} x */
  drag(x) {
    const way = x < END_PX ? -1 : x > this.width - END_PX ? 1 : 0;
    if (way) this.pulling = setInterval(() => this.pull(way), PULL_MS);
    this.set(this.hand.handle, this.figure(within(x - this.hand.off, 0, this.width), this.step), this.decimals);
  }

  /** Take the window along with a handle that is held at its end. @param {number} way */
  pull(way) {
    const by = way * PULL_STEPS * this.step;
    this.see(this.from + by, this.to - this.from);
    this.set(this.hand.handle, this.figure(way < 0 ? 0 : this.width, this.step), this.decimals);
  }

  /** @param {number} handle @param {number} value @param {number} decimals */
  set(handle, value, decimals) {
    write(this.inputs[handle], value, decimals);
  }

  /** @param {PointerEvent} event */
  leave(event) {
    const hand = this.hand;
    this.drop();
    if (!hand) return;
    const y = event.clientY - this.svg.getBoundingClientRect().top;
    // Of two, the upper stands above the line and the lower hangs below it, so that neither hides the other.
    const handle = hand.handle >= 0 ? hand.handle : this.isPair && y < this.axis ? 1 : 0;
    if (!hand.moved && hand.handle < 0) {
      const division = this.division(LEAST_TICK_PX);
      this.set(handle, this.figure(this.x(event), division), Math.max(0, Math.round(-Math.log10(division) + 0.2)));
    }
    // A mouse leaves the keyboard free to go on by steps; a finger would call up the pad of figures.
    if (event.pointerType === "mouse") this.inputs[handle].focus({ preventScroll: true });
  }

  drop() {
    clearInterval(this.pulling);
    const wasDragged = this.hand && this.hand.handle >= 0;
    this.hand = null;
    if (wasDragged) this.follow();
  }

  draw() {
    this.svg.replaceChildren(this.ground(), ...this.stems(), ...this.ticks(), ...this.span(), ...this.handles());
  }

  ground() {
    return drawn("rect", { class: "scale-ground", x: 0, y: 0, width: this.width, height: this.svg.getAttribute("height") });
  }

  *ticks() {
    const division = this.division(LEAST_TICK_PX);
    const px = (division / (this.to - this.from)) * this.width;
    const worded = [5, 10, 20, 50, 100].find((every) => every * px >= LABEL_PX) ?? 100;
    const decimals = decimalsOf(String(Number((division * worded).toFixed(6))));
    yield drawn("line", { class: "base", x1: 0, x2: this.width, y1: this.axis, y2: this.axis });
    for (let number = Math.ceil(this.from / division - 1e-6); number * division <= this.to + 1e-9; number++) {
      const x = this.place(number * division);
      const isWorded = number % worded === 0;
      yield drawn("line", { class: "tick", x1: x, x2: x, y1: this.axis, y2: this.axis + (isWorded ? 12 : number % 5 === 0 ? 9 : 6) });
      if (isWorded && x > 16 && x < this.width - 16) yield drawn("text", { class: "cut", x, y: this.axis + 29, "text-anchor": "middle" }, (number * division).toFixed(decimals));
    }
  }

  /** What lies between two edges. */
  *span() {
    const [lower, upper] = this.values;
    if (!(upper > lower)) return;
    const [left, right] = [lower, upper].map((value) => within(this.place(value), 0, this.width));
    yield drawn("rect", { class: "between", x: left, y: this.axis - 2, width: right - left, height: 4 });
  }

  /** The row of a handle: the lower of two hangs, every other stands. @param {number} handle */
  row(handle) {
    return this.isPair && handle === 0 ? this.axis + AXIS_PX + HANDLE_PX / 2 - 4 : HANDLE_PX / 2;
  }

  *stems() {
    for (const [handle, value] of this.values.entries()) {
      if (!(value >= this.from && value <= this.to)) continue;
      const x = this.place(value);
      yield drawn("line", { class: "stem", x1: x, x2: x, y1: this.axis, y2: this.row(handle) });
    }
  }

  *handles() {
    for (const [handle, value] of this.values.entries()) yield* this.handle(handle, value);
  }

  /** @param {number} handle @param {number} value */
  *handle(handle, value) {
    const y = this.row(handle);
    const name = this.isPair ? ` ${this.names[handle]}` : "";
    if (Number.isNaN(value)) {
      const said = this.inputs[handle].value.trim() ? "not on this scale" : "not read yet: tap the scale";
      yield drawn("text", { class: "unset", x: 0, y: y + 5 }, `${this.isPair ? `${this.names[handle]}, ` : ""}${said}`);
      return;
    }
    const shown = this.inputs[handle].value.trim();
    if (value < this.from || value > this.to) {
      const isLeft = value < this.from;
      yield drawn("text", { x: isLeft ? 0 : this.width, y: y + 5, "text-anchor": isLeft ? "start" : "end" }, isLeft ? `← ${shown}${name}` : `${shown}${name} →`);
      return;
    }
    const x = this.place(value);
    const isRight = x > this.width - (this.isPair ? 150 : 70);
    yield drawn("circle", { class: "bead", cx: x, cy: y, r: 11 });
    yield drawn("text", { class: "figure-read", x: x + (isRight ? -19 : 19), y: y + 5, "text-anchor": isRight ? "end" : "start" }, `${shown}${name}`);
    yield drawn("rect", { class: "grip", "data-handle": handle, x: x - HANDLE_PX / 2, y: y - HANDLE_PX / 2, width: HANDLE_PX, height: HANDLE_PX });
  }
}
