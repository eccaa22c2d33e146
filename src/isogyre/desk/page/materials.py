"""The list of materials, and the card of one, as typed page records."""

from collections.abc import Iterable, Mapping, Sequence

from isogyre.catalogue import UnknownMaterialError
from isogyre.catalogue.follow import followed_range
from isogyre.catalogue.model import Claim, Material, Source
from isogyre.desk.cards import (
    BodyAnswer,
    CareAnswer,
    ConstantAnswer,
    GlowAnswer,
    LookAnswer,
    MaterialCard,
    SeenAnswer,
    SeparationAnswer,
    SourceAnswer,
    SpectrumAnswer,
    StatementAnswer,
    TreatmentAnswer,
)
from isogyre.desk.find_material import find_material, names_of
from isogyre.desk.material import care_answer, material_card
from isogyre.desk.page.feature_drawing import drawing_address
from isogyre.desk.page.material_records import (
    Chooser,
    ChooserBox,
    ClaimRow,
    ConstantRow,
    Fact,
    FamilyPart,
    GrownPart,
    LookalikePart,
    LookPart,
    MaterialPage,
    MaterialRow,
    MaterialsPage,
    SourceRow,
    Told,
    TreatmentPart,
    UnknownMaterialPage,
    ViewPart,
)
from isogyre.desk.page.standing import LIMITS, capital
from isogyre.desk.views import material_views
from isogyre.desk.wording import per_cent
from isogyre.desk.workbench import Workbench
from isogyre.population.hypotheses import looks_of

# The decimals a bench reads each constant to.
DECIMALS = {"sg": 2, "hardness": 1, "two_v_deg": 0}
INDEX_DECIMALS = 3
LONGEST_FIND = 80
NUMBERS = ("first", "second", "third")
BOXES = len(NUMBERS)
NEARLY_ALL, HARDLY_ANY = 0.95, 0.05


# ---- the list ---------------------------------------------------------------------------------


def materials_page(workbench: Workbench, find: str = "") -> MaterialsPage:
    """Return all materials by family, or those whose names hold what is looked for."""
    wanted = " ".join(find.split())[:LONGEST_FIND]
    catalogue = workbench.catalogue
    found = [m for m in catalogue.materials.values() if wanted.lower() in _names(m)]
    families: dict[str, list[MaterialRow]] = {}
    for material in sorted(found, key=lambda m: (m.family, m.name)):
        row = _row(material, catalogue.sources)
        families.setdefault(material.family, []).append(row)
    return MaterialsPage(
        find=wanted,
        count=f"{len(found)} of {len(catalogue.materials)} materials",
        families=tuple(FamilyPart(capital(name), tuple(rows)) for name, rows in families.items()),
        near=() if found else _near(workbench, wanted),
        chooser=chooser(workbench),
    )


def chooser(workbench: Workbench, typed: Sequence[str] = ()) -> Chooser:
    """Return the boxes in which two or three kinds are named, holding what was ``typed``."""
    names = {name for name, _ in names_of(workbench.catalogue).values()}
    filled = (*typed, *("",) * BOXES)[:BOXES]
    return Chooser(
        boxes=tuple(ChooserBox(word, name) for word, name in zip(NUMBERS, filled, strict=True)),
        names=tuple(sorted(names, key=str.lower)),
    )


def _names(material: Material) -> str:
    varieties = (look.variety for body in material.bodies for look in body.looks)
    named = (material.name, material.species, material.group, *material.also_called, *varieties)
    return "\n".join(named).lower()


def _near(workbench: Workbench, name: str) -> tuple[str, ...]:
    try:
        return (find_material(workbench.catalogue, name)[1].name,)
    except UnknownMaterialError as error:
        return tuple(error.near)


def _row(material: Material, sources: Mapping[str, Source]) -> MaterialRow:
    constants = material.bodies[0].constants.sg or material.constants.sg
    return MaterialRow(
        name=material.name,
        also=", ".join(material.also_called),
        index=_index(material, sources),
        density=_range_of(constants, sources, DECIMALS["sg"]),
    )


def _index(material: Material, sources: Mapping[str, Source]) -> str:
    """Return the range from the lowest to the highest principal index."""
    said = material.constants
    rays = (said.n, said.n_o, said.n_e, said.n_alpha, said.n_beta, said.n_gamma)
    ends = [r for r in (followed_range(claims, sources) for claims in rays if claims) if r]
    if not ends:
        return ""
    return figure_range(min(low for low, _ in ends), max(high for _, high in ends), INDEX_DECIMALS)


def _range_of(claims: Sequence[Claim], sources: Mapping[str, Source], decimals: int) -> str:
    followed = followed_range(claims, sources) if claims else None
    return figure_range(*followed, decimals) if followed else ""


def figure_range(low: float, high: float, decimals: int) -> str:
    """Return a range to so many decimals, a single figure where both ends read alike."""
    one, other = f"{low:.{decimals}f}", f"{high:.{decimals}f}"
    return one if one == other else f"{one} to {other}"


# ---- the card ---------------------------------------------------------------------------------


def material_page(workbench: Workbench, name: str) -> MaterialPage | UnknownMaterialPage:
    """Return the card of the material called ``name``, or the names that come near it."""
    try:
        card = material_card(workbench, name)
    except UnknownMaterialError as error:
        return UnknownMaterialPage(error.name, tuple(error.near))
    shown_of, views = _views(workbench, card)
    return MaterialPage(
        name=capital(card["name"]),
        about=_about(card),
        asked="" if card["name"] in (card["asked"], card["found_as"]) else card["found_as"],
        related=tuple(card["same_species"]),
        facts=_facts(card),
        constants=constant_rows(card["constants"]),
        grown=tuple(_grown(body, card) for body in card["bodies"]),
        treatments=tuple(_treatment(t, card["bodies"][0]["growth"]) for t in card["treatments"]),
        lookalikes=tuple(
            LookalikePart(other["name"], _told(other["separated_by"]))
            for other in card["lookalikes"]
        ),
        care=_care(card["care"]),
        care_of_looks=_care_of_looks(workbench.catalogue.materials[card["name"]]),
        cautions=tuple(
            Fact(
                f"{c['test']}: {c['verdict']}",
                f"{c['reason']}; {c['lifted_by']}",
                _keys(c["source"]),
            )
            for c in card["cautions"]
        ),
        note=card["note"],
        sources=tuple(_source(source) for source in card["sources"]),
        from_memory=memory_in_words(card["from_memory"]),
        compare_as=card["found_as"],
        drawings=_drawings(workbench, card),
        shown_of=shown_of,
        views=views,
    )


def _keys(source: str) -> tuple[str, ...]:
    return tuple(key for key in source.split(";") if key)


def _about(card: MaterialCard) -> str:
    of_species = f"of the species {card['species']}" if card["species"] != card["name"] else ""
    return ", ".join(filter(None, (card["kind"], of_species, card["family"])))


def _facts(card: MaterialCard) -> tuple[Fact, ...]:
    character = f"{card['optic_character']} {card['optic_sign']}".strip().replace("-", "−")
    facts = [
        Fact("also called", ", ".join(card["also_called"])),
        _statement("formula", card["formula"]),
        _statement("system", card["system"]),
        Fact("optic character", character),
        Fact("transparency", _steps(card["transparency"])),
        Fact("lustre", ", ".join(card["lustre"])),
        _statement("toughness", card["toughness"]),
        _statement("cleavage", card["cleavage"]),
        Fact("how common", card["how_common"]),
    ]
    return _said(facts)


def _said(facts: Iterable[Fact]) -> tuple[Fact, ...]:
    return tuple(fact for fact in facts if fact.text)


def _statement(label: str, said: StatementAnswer | None) -> Fact:
    return Fact(label, said["text"], _keys(said["source"])) if said else Fact(label, "")


def _steps(steps: Mapping[str, str]) -> str:
    return ", ".join(f"{word} {step}" for word, step in steps.items())


def constant_rows(answers: Iterable[ConstantAnswer]) -> tuple[ConstantRow, ...]:
    """Return constants as a page shows them, each with what its sources say."""
    return tuple(_constant(answer) for answer in answers)


def _constant(answer: ConstantAnswer) -> ConstantRow:
    decimals = DECIMALS.get(answer["name"], INDEX_DECIMALS)
    followed, drawn, unit = answer["followed"], answer["drawn"], answer["unit"]
    return ConstantRow(
        label=answer["label"],
        followed=figure_range(followed["low"], followed["high"], decimals) + unit
        if followed
        else "",
        rule=answer["rule"],
        drawn=figure_range(drawn["low90"], drawn["high90"], decimals) + unit if drawn else "",
        disagree=answer["disagree"],
        claims=tuple(
            ClaimRow(
                text=f"{_claim(claim['low'], claim['high'])}{unit}",
                sources=_keys(claim["source"]),
                note="; ".join(filter(None, (claim["at"], claim["note"]))),
                is_followed=claim["is_followed"],
            )
            for claim in answer["claims"]
        ),
    )


def _claim(low: float, high: float) -> str:
    """Return a claim with the digits its source gives."""
    return f"{low:g}" if low == high else f"{low:g} to {high:g}"


def _grown(body: BodyAnswer, card: MaterialCard) -> GrownPart:
    # The share is that of a way of growth; two bodies grown in one way would both claim it.
    alone = sum(other["growth"] == body["growth"] for other in card["bodies"]) == 1
    called = card["name"] if alone else body["name"]
    return GrownPart(
        name=capital(_grown_name(body)),
        what=body["what"],
        share=per_cent(body["share"]) if alone else "",
        constants=constant_rows(body["constants"]),
        told=_told(body["told_from_first"]),
        facts=_said(_seen(seen) for seen in body["features"]),
        looks=tuple(LookPart(capital(look["variety"]), _look(look)) for look in body["looks"]),
        compare_as=f"{body['growth']} {called}" if called else "",
    )


def _grown_name(body: BodyAnswer) -> str:
    """Return a body's own name, with its growth unless it grew in the ground."""
    grown = "" if body["growth"] == "natural" and body["name"] else body["growth"]
    return ", ".join(filter(None, (body["name"], grown)))


def _told(answers: Iterable[SeparationAnswer]) -> tuple[Told, ...]:
    return tuple(Told(a["test"], a["here"], a["there"]) for a in answers)


def _seen(seen: SeenAnswer) -> Fact:
    how = f" ({seen['how_to_see']})" if seen["how_to_see"] else ""
    return Fact(seen["name"], f"{seen['seen']}: {seen['what']}{how}", _keys(seen["source"]))


def _look(look: LookAnswer) -> tuple[Fact, ...]:
    pleochroism, colour_filter = look["pleochroism"], look["filter"]
    facts = [
        Fact("how common", per_cent(look["share"]), _keys(look["source"])),
        Fact("colour", _steps(look["colours"])),
        Fact("in incandescent light", _steps(look["incandescent"])),
        _glows("long wave", look["long_wave"]),
        _glows("short wave", look["short_wave"]),
        Fact("magnet", look["magnet"]),
        *(_spectrum(spectrum) for spectrum in look["spectrum"]),
        *(_seen(seen) for seen in (*look["phenomena"], *look["features"])),
    ]
    if pleochroism:
        shown = [pleochroism["strength"], ", ".join(pleochroism["colours"])]
        text = ": ".join(filter(None, shown))
        facts.insert(3, Fact("pleochroism", text, _keys(pleochroism["source"])))
    if colour_filter:
        red = f"pink to red {colour_filter['red']}"
        facts.append(Fact("colour filter", red, _keys(colour_filter["source"])))
    return _said(facts)


def _glows(label: str, glows: Sequence[GlowAnswer]) -> Fact:
    sources = dict.fromkeys(key for glow in glows for key in _keys(glow["source"]))
    return Fact(label, ", ".join(f"{g['look']} {g['seen']}" for g in glows), tuple(sources))


def _spectrum(spectrum: SpectrumAnswer) -> Fact:
    lines = ", ".join(f"{line['nm']:g}" for line in spectrum["lines"])
    text = [f"{spectrum['seen']}: {spectrum['text']}", f"{lines} nm" if lines else ""]
    label = f"spectrum, {spectrum['cause']}"
    return Fact(label, "; ".join(filter(None, text)), _keys(spectrum["source"]))


def _treatment(answer: TreatmentAnswer, usual_growth: str) -> TreatmentPart:
    facts = [
        Fact("how common", answer["how_common"], _keys(answer["source"])),
        Fact("done to", ", ".join((*answer["growths"], *answer["looks"]))),
        *(_seen(seen) for seen in answer["leaves"]),
        Fact("takes away", ", ".join(f"{s['name']} {s['seen']}" for s in answer["hides"])),
        _glows("long wave", answer["long_wave"]),
        _glows("short wave", answer["short_wave"]),
        *(_spectrum(spectrum) for spectrum in answer["spectrum"]),
        Fact("laboratory", answer["laboratory"]),
        Fact("note", answer["note"]),
    ]
    # One treatment may stand several times, as practised on stones of different growth or colour.
    unusual = [growth for growth in answer["growths"] if growth != usual_growth]
    return TreatmentPart(
        name=capital(", ".join((answer["name"], *unusual, *answer["looks"]))),
        what=answer["what"],
        limit=LIMITS[answer["hand_tests"]],
        facts=_said(facts),
    )


def _care(care: CareAnswer) -> tuple[Fact, ...]:
    keys = _keys(care["source"])
    verdicts = {
        "torch": care["torch"],
        "pickle": care["pickle"],
        "ultrasonic": care["ultrasonic"],
        "steam": care["steam"],
        "strong light": care["light"],
    }
    facts = [
        Fact(word, verdict, ("memory",) if word in care["from_memory"] else keys)
        for word, verdict in verdicts.items()
    ]
    return _said([*facts, Fact("hazard", care["hazard"], keys)])


def _care_of_looks(material: Material) -> tuple[LookPart, ...]:
    """Return for each colour type what it bears less, or other, than the material in general."""
    usual = {(fact.label, fact.text) for fact in _care(care_answer(material.care))}
    differing: dict[tuple[str, tuple[Fact, ...]], list[str]] = {}
    for body in material.bodies:
        for look in looks_of(material, body):
            if look.care:
                facts = _care(care_answer(look.care))
                other = tuple(fact for fact in facts if (fact.label, fact.text) not in usual)
                differing.setdefault((look.variety, other), []).append(body.growth)
    return tuple(
        LookPart(capital(f"{name}, {' or '.join(dict.fromkeys(growths))}"), facts)
        for (name, facts), growths in differing.items()
        if facts
    )


def _views(workbench: Workbench, card: MaterialCard) -> tuple[str, tuple[ViewPart, ...]]:
    """Return of which stones the instruments' views are, and the views."""
    shown = material_views(workbench, card["name"])
    parts = (ViewPart(capital(v.candidate), v.seen, v.svg, v.limit) for v in shown.views)
    return shown.of, tuple(parts)


def _drawings(workbench: Workbench, card: MaterialCard) -> dict[str, str]:
    """Return the address of a drawing for each feature that the loupe or the eye sees in it."""
    seen = [s for body in card["bodies"] for s in body["features"]]
    seen += [s for body in card["bodies"] for look in body["looks"] for s in look["features"]]
    seen += [s for treatment in card["treatments"] for s in treatment["leaves"]]
    features = workbench.catalogue.features
    names = dict.fromkeys(s["name"] for s in seen)
    drawn = (name for name in names if features[name].where in ("loupe", "eye"))
    return {name: drawing_address(workbench, name) for name in drawn}


def memory_in_words(share: float) -> str:
    """Return how much of a card (0 to 1) was written from memory, as a person says it."""
    if share > NEARLY_ALL:
        return "Nearly all that this card says was"
    if share < HARDLY_ANY:
        return "Hardly anything that this card says was"
    return f"About {max(1, round(10 * share))} in 10 statements of this card were"


def _source(source: SourceAnswer) -> SourceRow:
    parts = (source["author"], source["title"], source["year"], source["where"])
    return SourceRow(source["key"], ". ".join(filter(None, parts)))
