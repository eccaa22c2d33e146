"""The card of a material as plain text."""

from collections.abc import Iterable

from isogyre.desk import MaterialCard
from isogyre.desk.cards import BodyAnswer, ConstantAnswer, LookAnswer, TreatmentAnswer

MOST_LOOKALIKES = 8
MOST_SEPARATORS = 2


def card_text(card: MaterialCard) -> str:
    """Return the card in words: constants, growths, treatments, doubles, care, sources."""
    parts = (
        _head(card),
        ["Constants (followed range; every claim with its source):", *_constants(card)],
        *(_body(body) for body in card["bodies"]),
        _treatments(card["treatments"]),
        _lookalikes(card),
        _care(card),
        _sources(card),
    )
    return "\n\n".join("\n".join(part) for part in parts if part)


def _head(card: MaterialCard) -> list[str]:
    called = f" ({', '.join(card['also_called'])})" if card["also_called"] else ""
    optic = f"{card['optic_character']} {card['optic_sign']}".strip()
    facts = [
        f"{card['name']}{called}",
        f"  species {card['species']}, {card['kind']}, {card['family']}; met {card['how_common']}",
        f"  {optic}; {', '.join(card['lustre'])}",
    ]
    statements = (card["formula"], card["system"], card["toughness"], card["cleavage"])
    facts += [f"  {s['text']} [{s['source']}]" for s in statements if s]
    return [*facts, f"  {card['note']}"] if card["note"] else facts


def _constants(card: MaterialCard) -> list[str]:
    return [line for constant in card["constants"] for line in _constant(constant)]


def _constant(constant: ConstantAnswer) -> list[str]:
    followed, unit = constant["followed"], constant["unit"]
    if followed is None:
        return []
    head = f"  {constant['label']:<28}{_range(followed['low'], followed['high'])} {unit}".rstrip()
    claims = "; ".join(
        f"{_range(c['low'], c['high'])} {c['source']}" + ("" if c["agrees"] else " (differs)")
        for c in constant["claims"]
    )
    return [head, f"      {claims}"]


def _range(low: float, high: float) -> str:
    return f"{low:g}" if low == high else f"{low:g} to {high:g}"


def _body(body: BodyAnswer) -> list[str]:
    name = f"{body['growth']}, {body['name']}" if body["name"] else body["growth"]
    lines = [f"Grown: {name} ({body['origin']}; {body['how_common']})"]
    lines += [line for look in body["looks"] for line in _look(look)]
    if body["features"]:
        lines.append(f"  inside: {_seen((f['name'], f['seen']) for f in body['features'])}")
    return lines


def _look(look: LookAnswer) -> list[str]:
    parts = [", ".join(look["colours"])]
    if look["pleochroism"]:
        colours = " / ".join(look["pleochroism"]["colours"])
        parts.append(f"pleochroism {look['pleochroism']['strength']} {colours}".rstrip())
    for lamp, label in (("long_wave", "365 nm"), ("short_wave", "254 nm")):
        glows = look["long_wave"] if lamp == "long_wave" else look["short_wave"]
        if glows:
            parts.append(f"{label} {_seen((g['look'], g['seen']) for g in glows)}")
    parts += [f"spectrum {s['name']}" for s in look["spectrum"]]
    parts += [p["name"] for p in look["phenomena"]]
    return [f"  {look['variety']}: {'; '.join(parts)}"]


def _seen(pairs: Iterable[tuple[str, str]]) -> str:
    return ", ".join(f"{name} ({seen})" for name, seen in pairs)


def _treatments(treatments: list[TreatmentAnswer]) -> list[str]:
    lines = []
    for treatment in treatments:
        leaves = ", ".join(f["name"] for f in treatment["leaves"]) or "nothing to see"
        lines += [
            f"  {treatment['name']} ({treatment['how_common']}): leaves {leaves}",
            f"      laboratory: {treatment['laboratory']} [{treatment['source']}]",
        ]
    return ["Treatments:", *lines] if lines else []


def _lookalikes(card: MaterialCard) -> list[str]:
    lines = []
    for double in card["lookalikes"][:MOST_LOOKALIKES]:
        best = double["separated_by"][:MOST_SEPARATORS]
        tests = "; ".join(f"{t['test']}: {t['here']} against {t['there']}" for t in best)
        lines.append(f"  {double['name']}: {tests or 'hand tests hardly part them'}")
    return ["Taken for it, and what parts them:", *lines] if lines else []


def _care(card: MaterialCard) -> list[str]:
    care = card["care"]
    lines = [
        f"  torch {care['torch']}, pickle {care['pickle']}, ultrasonic {care['ultrasonic']}, "
        f"steam {care['steam']}, light {care['light']} [{care['source']}]"
    ]
    if care["hazard"]:
        lines.append(f"  hazard: {care['hazard']}")
    lines += [f"  {c['test']}: {c['verdict']}, {c['reason']}" for c in card["cautions"]]
    note = "  Any treatment makes this stricter; local rules and makers' instructions come first."
    return ["At the bench:", *lines, note]


def _sources(card: MaterialCard) -> list[str]:
    rows = [
        f"  {s['key']}: {s['author']}, {s['title']} {s['year']}".rstrip() for s in card["sources"]
    ]
    memory = card["from_memory"]
    share = "all of the values are" if memory > 0.995 else f"{memory:.0%} of the values are"
    return [f"Sources ({share} from memory):", *rows]
