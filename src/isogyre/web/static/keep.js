// The page of a stone is put in place anew whenever a reading is kept. What lay open stays open,
// and what was typed but not sent stays typed.

/** @type {string[]} */
let open = [];
/** @type {Map<string, string>} */
let typed = new Map();
/** The sheet whose readings were just kept, and the one in which a button was pressed. */
let sent = "";
let pressed = "";

const sheets = () => /** @type {NodeListOf<HTMLDetailsElement>} */ (document.querySelectorAll("#stone details[id]"));
const boxes = () => /** @type {NodeListOf<HTMLInputElement>} */ (document.querySelectorAll("#thread [id][name]"));
const isTyped = (box) => box.type !== "radio" && box.type !== "checkbox" && box.value !== (box.defaultValue ?? box.value);

document.addEventListener("htmx:beforeSwap", (event) => {
  const isKept = event.detail.requestConfig.verb === "post";
  const button = event.detail.requestConfig.triggeringEvent?.submitter;
  const isDone = isKept && event.detail.xhr.status < 400;
  sent = isDone && button?.name === "sheet" ? button.value : "";
  // Whatever button was pressed, its sheet is where one goes on.
  pressed = isDone ? button?.closest("details.sheet")?.id ?? "" : "";
  open = [...sheets()].filter((sheet) => sheet.open && sheet.id !== sent).map((sheet) => sheet.id);
  // What was sent comes back kept, or with its trouble; only what was not sent is carried over.
  typed = new Map(isKept ? [] : [...boxes()].filter(isTyped).map((box) => [box.id, box.value]));
});

document.addEventListener("htmx:afterSettle", () => {
  for (const sheet of sheets()) if (open.includes(sheet.id)) sheet.open = true;
  for (const box of boxes()) {
    if (!typed.has(box.id)) continue;
    box.value = typed.get(box.id);
    box.dispatchEvent(new Event("input", { bubbles: true }));
  }
  // What stands in a part that is put in place anew is not read aloud; this place stays.
  document.getElementById("heard").textContent = document.querySelector(".verdict, .mend")?.textContent ?? "";
  document.getElementById(pressed)?.querySelector("summary")?.focus({ preventScroll: false });
  const bad = document.querySelector("[aria-invalid=true]");
  if (bad) bad.focus();
});
