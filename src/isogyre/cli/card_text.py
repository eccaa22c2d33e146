"""The card of a material as plain text."""

from collections.abc import Iterable, Mapping, Sequence

from isogyre.desk import MaterialCard
from isogyre.desk.cards import (
    BodyAnswer,
    ConstantAnswer,
    GlowAnswer,
    LookAnswer,
    SeenAnswer,
    SeparationAnswer,
    SourceAnswer,
    SpectrumAnswer,
    TreatmentAnswer,
)
from isogyre.desk.page.standing import capital
from isogyre.desk.wording import per_cent

MOST_LOOKALIKES = 8
MOST_SEPARATORS = 2
DECIMALS = {"sg": 2, "hardness": 1, "two_v_deg": 0}
ALL = 0.999


def card_text(card: MaterialCard) -> str:
    """Return the card in words: constants, growths, treatments, doubles, care, sources."""
    constants = [line for constant in card["constants"] for line in _constant(constant)]
    parts = (
        _head(card),
        _titled("Constants: range followed, stones drawn from it, who says what", constants),
        *(_body(body) for body in card["bodies"]),
        _titled("Treatments", [x for t in card["treatments"] for x in _treatment(t)]),
        _lookalikes(card),
        _care(card),
        _sources(card),
    )
    return "\n\n".join("\n".join(part) for part in parts if part)


def _titled(title: str, lines: Sequence[str]) -> list[str]:
    return [f"{title}:", *lines] if lines else []


def _head(card: MaterialCard) -> list[str]:
    read_as = card["found_as"]
    name = capital(card["name"])
    first = name if read_as == card["name"] else f"{name} is the material meant by '{read_as}'"
    optic = f"{card['optic_character']} {card['optic_sign']}".strip()
    lines = [
        f"{first}: {card['kind']} of the species {card['species']}, met {card['how_common']}.",
        f"  {card['family']}; {optic}; {_frequencies(card['transparency'])}; "
        f"lustre {', '.join(card['lustre'])}",
    ]
    for title, names in (
        ("also called", card["also_called"]),
        ("of the same species", card["same_species"]),
        ("of the same group", card["same_group"]),
    ):
        lines += [f"  {title}: {', '.join(names)}"] if names else []
    for title, said in (
        ("formula", card["formula"]),
        ("system", card["system"]),
        ("toughness", card["toughness"]),
        ("cleavage", card["cleavage"]),
    ):
        lines += [f"  {title}: {said['text']} [{said['source']}]"] if said else []
    return [*lines, f"  {card['note']}"] if card["note"] else lines


# ---- constants --------------------------------------------------------------------------------


def _constant(constant: ConstantAnswer) -> list[str]:
    followed, drawn = constant["followed"], constant["drawn"]
    if followed is None:
        return []
    decimals = DECIMALS.get(constant["name"], 3)
    spread = (
        f"; nine stones in ten {drawn['low90']:.{decimals}f} to {drawn['high90']:.{decimals}f}, "
        f"middle {drawn['median']:.{decimals}f}"
        if drawn
        else ""
    )
    figure = f"{_range(followed['low'], followed['high'])}{constant['unit']}"
    claims = "; ".join(
        f"{_range(c['low'], c['high'])} {c['source']}" + ("" if c["agrees"] else " (differs)")
        for c in constant["claims"]
    )
    return [
        f"  {constant['label']} {figure}{spread}",
        f"      {constant['rule']}: {claims}",
    ]


def _range(low: float, high: float) -> str:
    return f"{low:g}" if low == high else f"{low:g} to {high:g}"


# ---- growths and looks ------------------------------------------------------------------------


def _body(body: BodyAnswer) -> list[str]:
    name = f"{body['growth']}, {body['name']}" if body["name"] else body["growth"]
    lines = [f"Grown: {name} ({body['origin']}; {body['how_common']})"]
    lines += [line for constant in body["constants"] for line in _constant(constant)]
    lines += [_look(look) for look in body["looks"]]
    if body["features"]:
        lines.append(f"  inside: {_seen(body['features'])}")
    if body["told_from_first"]:
        lines.append(f"  told from the first growth by {_separators(body['told_from_first'])}")
    return lines


def _look(look: LookAnswer) -> str:
    pleochroism, reaction = look["pleochroism"], look["filter"]
    parts = [_frequencies(look["colours"])]
    if look["incandescent"]:
        parts.append(f"in incandescent light {_frequencies(look['incandescent'])}")
    if pleochroism:
        colours = " / ".join(pleochroism["colours"])
        parts.append(f"pleochroism {pleochroism['strength']} {colours}".rstrip())
    parts += _reactions(look["long_wave"], look["short_wave"], look["spectrum"])
    parts += [f"red through the filter {reaction['red']}"] if reaction else []
    parts += [_seen(seen) for seen in (look["phenomena"], look["features"]) if seen]
    return f"  {look['variety']} ({look['how_common']}): {'; '.join(parts)}"


def _reactions(
    long_wave: Sequence[GlowAnswer],
    short_wave: Sequence[GlowAnswer],
    spectra: Sequence[SpectrumAnswer],
) -> list[str]:
    glows = (("365 nm", long_wave), ("254 nm", short_wave))
    lamps = [
        f"{lamp} " + ", ".join(f"{g['look']} ({g['seen']})" for g in shown)
        for lamp, shown in glows
        if shown
    ]
    return [*lamps, *(f"spectrum {s['name']} ({s['seen']})" for s in spectra)]


def _seen(features: Iterable[SeenAnswer]) -> str:
    return ", ".join(f"{feature['name']} ({feature['seen']})" for feature in features)


def _frequencies(steps: Mapping[str, str]) -> str:
    return ", ".join(f"{word} ({step})" for word, step in steps.items())


# ---- treatments, doubles, care ----------------------------------------------------------------


def _treatment(treatment: TreatmentAnswer) -> list[str]:
    on = ", ".join((*treatment["growths"], *treatment["looks"]))
    reactions = _reactions(treatment["long_wave"], treatment["short_wave"], treatment["spectrum"])
    leaves = "; ".join(filter(None, (_seen(treatment["leaves"]), *reactions)))
    lines = [
        f"  {treatment['name']} ({treatment['how_common']}) on {on} [{treatment['source']}]",
        f"      leaves {leaves or 'nothing to see'}; hand tests {treatment['hand_tests']}",
        f"      laboratory: {treatment['laboratory']}",
    ]
    return [*lines, *(f"    {x}" for c in treatment["constants"] for x in _constant(c))]


def _lookalikes(card: MaterialCard) -> list[str]:
    lines = [
        f"  {double['name']}: "
        + (_separators(double["separated_by"]) or "hand tests hardly part them")
        for double in card["lookalikes"][:MOST_LOOKALIKES]
    ]
    return _titled("Taken for it, and what parts them (here against there)", lines)


def _separators(tests: Sequence[SeparationAnswer]) -> str:
    best = tests[:MOST_SEPARATORS]
    return "; ".join(f"{t['test']}: {t['here']} against {t['there']}" for t in best)


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
    share = "all" if card["from_memory"] > ALL else per_cent(card["from_memory"])
    rows = [_source(source) for source in card["sources"]]
    return [f"Sources ({share} of the values are from memory):", *rows]


def _source(source: SourceAnswer) -> str:
    told = (source["author"], source["title"], source["year"])
    return f"  {source['key']}: {', '.join(filter(None, told))}"
