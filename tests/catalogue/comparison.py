"""Each published row beside what the catalogue follows: agreed, disagreed, or not comparable."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from isogyre.catalogue.model import STEP_PROBABILITY, Glow, Line
from isogyre.population.words import HUES, PLEOCHROISM_STRENGTHS
from tests.catalogue.formulas import ours_and_theirs_agree
from tests.catalogue.stones import Kind, catalogue, kinds, our_range, reading_of
from tests.catalogue.wording import (
    cleavage_directions,
    cleavage_grade,
    glow_answers,
    glow_clauses,
    is_hedged,
    pleochroism_span,
    toughness_span,
)

Row = Mapping[str, str]

# Readings differ by this much between two good observers and between two fair stones.
INDEX_ERROR = 0.003  # refractometer, one edge
BIREFRINGENCE_ERROR = 0.002  # difference of two edges
SG_SHARE = 0.01  # hydrostatic weighing of a stone of about a carat
HARDNESS_ERROR = 0.5  # ordinal; half steps are a matter of taste
DISPERSION_SHARE = 0.10  # printed and computed values differ by this
DISPERSION_ERROR = 0.002
TWO_V_ERROR_DEG = 10.0  # one thousandth in the middle index moves it by more
# A figure printed to two places may stand for anything that rounds to it.
MOST_ROUNDING = {"n": 0.005, "birefringence": 0.005, "sg": 0.05}
# A prism spectroscope spreads the blue and crowds the red.
LINE_ERROR_NM = {400.0: 2.0, 700.0: 8.0}
HAND_SPECTROSCOPE_NM = (400.0, 715.0)
# How probable a published answer must be in the catalogue: said of the stone, or of some stones.
TYPICAL_SHARE = 0.10
OCCASIONAL_SHARE = 0.03

CONSTANT_OF = {
    "ri": "n",
    "ri_o": "n_o",
    "ri_e": "n_e",
    "ri_alpha": "n_alpha",
    "ri_beta": "n_beta",
    "ri_gamma": "n_gamma",
    "birefringence": "birefringence",
    "sg": "sg",
    "hardness_mohs": "hardness",
    "dispersion_bg": "dispersion",
    "two_v_deg": "two_v_deg",
}


@dataclass(frozen=True)
class Finding:
    """One published row. ``agrees`` is None where it cannot be compared; ``why_not`` says why."""

    material: str
    measured: str
    source: str
    theirs: str
    ours: str = ""
    agrees: bool | None = None
    why_not: str = ""

    @property
    def key(self) -> tuple[str, str, str, str]:
        return self.material, self.measured, self.source, self.theirs


Verdict = tuple[str, bool | None]  # ours in words, agreement; None with the reason in words


def finding(row: Row) -> Finding:
    """Compare one row of a reference table with the catalogue."""
    theirs = _theirs(row)
    where = (row["material"], row["property"], row["source_id"], theirs)
    left_out = reading_of(row["material"])["why_not"]
    if left_out:
        return Finding(*where, why_not=left_out)
    ours, agrees = _judge(row)
    return Finding(*where, why_not=ours) if agrees is None else Finding(*where, ours, agrees)


def _theirs(row: Row) -> str:
    if not row["low"]:
        return row["text"]
    return row["low"] if row["low"] == row["high"] else f"{row['low']}-{row['high']}"


def _judge(row: Row) -> Verdict:
    name = row["property"]
    if name in CONSTANT_OF:
        return _number(row)
    judges: dict[str, Callable[[Row], Verdict]] = {
        "absorption_nm": _absorption,
        "optic_character": _character,
        "optic_sign": _sign,
        "crystal_system": _system,
        "cleavage": _cleavage,
        "toughness": _toughness,
        "pleochroism": _pleochroism,
        "fluorescence_lw": _fluorescence,
        "fluorescence_sw": _fluorescence,
        "chelsea_filter": _filter,
        "formula": _formula,
    }
    return judges[name](row)


# ---- numbers ---------------------------------------------------------------------------------


def _number(row: Row) -> Verdict:
    constant = CONSTANT_OF[row["property"]]
    ours = our_range(row["material"], constant)
    if ours is None:
        return "the catalogue has no such constant for it", None
    slack = tolerance(constant, row["low"], row["high"])
    inside = float(row["low"]) >= ours[0] - slack and float(row["high"]) <= ours[1] + slack
    return f"{ours[0]:g}-{ours[1]:g}", inside


def tolerance(constant: str, low: str, high: str) -> float:
    """Return by how much a published end may lie outside our range: error plus rounding."""
    kind = "n" if constant.startswith("n") else constant
    value = float(high)
    error = {
        "n": INDEX_ERROR,
        "birefringence": BIREFRINGENCE_ERROR,
        "sg": SG_SHARE * value,
        "hardness": HARDNESS_ERROR,
        "dispersion": max(DISPERSION_ERROR, DISPERSION_SHARE * value),
        "two_v_deg": TWO_V_ERROR_DEG,
    }[kind]
    return error + min(max(_half_place(low), _half_place(high)), MOST_ROUNDING.get(kind, 0.0))


def _half_place(figure: str) -> float:
    return 0.5 * 10.0 ** -len(figure.partition(".")[2])


# ---- lines -----------------------------------------------------------------------------------


def line_error_nm(wavelength_nm: float) -> float:
    """Return the error of a hand-held prism spectroscope at a wavelength, in nanometres."""
    (blue, small), (red, large) = LINE_ERROR_NM.items()
    share = min(max((wavelength_nm - blue) / (red - blue), 0.0), 1.0)
    return small + share * (large - small)


def lines_of(stones: Iterable[Kind]) -> list[Line]:
    """Return every line in the spectra of these stones and of their named treatments."""
    stones = tuple(stones)
    own = {one.name for kind in stones for one in kind.look.spectrum}
    treated = {one.name for kind in stones for row in kind.treatments for one in row.spectrum}
    seen = own | treated
    return [line for name in sorted(seen) for line in catalogue().spectra[name].lines]


def nearest_line(wavelength_nm: float, stones: Iterable[Kind]) -> tuple[str, bool]:
    """Return our line nearest to a published one, and whether a hand could tell them apart."""

    def gap(line: Line) -> float:
        half_width = line.width_nm / 2 if line.width_nm > 2 else 0.0
        return max(0.0, abs(line.nm - wavelength_nm) - half_width)

    lines = lines_of(stones)
    if not lines:
        return "no lines", False
    line = min(lines, key=gap)
    return f"{line.nm:g}", gap(line) <= line_error_nm(wavelength_nm)


def _absorption(row: Row) -> Verdict:
    wavelength_nm = float(row["low"])
    low, high = HAND_SPECTROSCOPE_NM
    if not low <= wavelength_nm <= high:
        return "outside what a hand spectroscope shows", None
    return nearest_line(wavelength_nm, kinds(row["material"]))


# ---- words -----------------------------------------------------------------------------------


def _materials(row: Row) -> list[Kind]:
    """Return one kind of each material that the row's name means."""
    return list({kind.material.name: kind for kind in kinds(row["material"])}.values())


def _character(row: Row) -> Verdict:
    ours = {kind.material.optic.character for kind in _materials(row)}
    if ours <= {"aggregate", "opaque"} and not row["text"].startswith("aggregate"):
        return "the grains of an aggregate or opaque stone show none", None
    return ", ".join(sorted(ours)), row["text"].split(" ")[0] in ours


def _sign(row: Row) -> Verdict:
    ours = {kind.material.optic.sign for kind in _materials(row)} - {""}
    if not ours:
        return "the grains of an aggregate or opaque stone show none", None
    both = "+-" if "+-" in ours or {"+", "-"} <= ours else ""
    return ", ".join(sorted(ours)), row["text"] in ours or row["text"] in (both or ours)


def _system(row: Row) -> Verdict:
    ours = [kind.material.system.text for kind in _materials(row) if kind.material.system]
    if not ours:
        return "the catalogue gives no system", None
    # An older custom counts trigonal crystals as hexagonal.
    wanted = ("hexagonal", "trigonal") if row["text"] == "hexagonal" else (row["text"],)
    return "; ".join(ours), any(word in text for word in wanted for text in ours)


def _cleavage(row: Row) -> Verdict:
    said = [kind.material.durability.cleavage for kind in _materials(row)]
    ours = [statement.text for statement in said if statement]
    if cleavage_grade(row["text"]) is None or not ours:
        return "no grade is named", None
    return "; ".join(ours), any(_cleaves_alike(text, row["text"]) for text in ours)


def _cleaves_alike(ours: str, theirs: str) -> bool:
    """Grades within one step, and as many directions where both say."""
    our_grade, their_grade = cleavage_grade(ours), cleavage_grade(theirs)
    if our_grade is None or their_grade is None or abs(our_grade - their_grade) > 1:
        return False
    # In a poor cleavage nobody counts directions.
    our_count, their_count = cleavage_directions(ours), cleavage_directions(theirs)
    return their_grade < 2 or not our_count or not their_count or bool(our_count & their_count)


def _toughness(row: Row) -> Verdict:
    said = [kind.material.durability.toughness for kind in _materials(row)]
    ours = [statement.text for statement in said if statement]
    theirs = toughness_span(row["text"])
    spans = [span for text in ours if (span := toughness_span(text))]
    if theirs is None or not spans:
        return "no step is named", None
    return "; ".join(ours), any(s[0] <= theirs[1] and theirs[0] <= s[1] for s in spans)


def _pleochroism(row: Row) -> Verdict:
    theirs = pleochroism_span(row["text"])
    if theirs is None:
        return "no strength is named", None
    # A look without a statement is that of an aggregate or of an isotropic stone: none.
    strengths = {
        k.look.pleochroism.strength if k.look.pleochroism else "none"
        for k in kinds(row["material"])
    }
    steps = sorted(PLEOCHROISM_STRENGTHS.index(strength) for strength in strengths)
    ours = ", ".join(PLEOCHROISM_STRENGTHS[step] for step in steps)
    return ours, any(theirs[0] <= step <= theirs[1] for step in steps)


def _filter(row: Row) -> Verdict:
    reds = [
        STEP_PROBABILITY[kind.look.filter.red]
        for kind in kinds(row["material"])
        if kind.look.filter
    ]
    share = max(reds, default=0.0)
    floor = OCCASIONAL_SHARE if is_hedged(row["text"]) else TYPICAL_SHARE
    return f"red in {share:.0%} at most of a colour type", share >= floor


def _fluorescence(row: Row) -> Verdict:
    lamp = "long_wave" if row["property"].endswith("lw") else "short_wave"
    floor = OCCASIONAL_SHARE if is_hedged(row["text"]) else TYPICAL_SHARE
    shares = [
        share
        for whose, what in glow_clauses(row["text"])
        if (share := _glow_share(row["material"], lamp, whose, what)) is not None
    ]
    if not shares:
        return "the words name no glow, or the catalogue none", None
    return f"{min(shares):.0%}", min(shares) >= floor


def _glow_share(name: str, lamp: str, whose: str, what: str) -> float | None:
    """Return how probable a described glow is in the look that shows it most."""
    answers = glow_answers(what)
    colours = {hue for hue in HUES if hue in whose or (hue, "purple") == ("violet", whose)}
    looks = [kind.look for kind in kinds(name) if not colours or colours & set(kind.look.colours)]
    glows: list[tuple[Glow, ...]] = [getattr(look, lamp) for look in looks]
    if answers is None or not any(glows):
        return None
    return max(_share(rows, answers) for rows in glows if rows)


def _share(rows: Iterable[Glow], answers: set[tuple[str, str]]) -> float:
    weights = {glow.look: STEP_PROBABILITY[glow.seen] for glow in rows}
    agreed = sum(weight for look, weight in weights.items() if _split(look) in answers)
    return agreed / sum(weights.values())


def _split(look: str) -> tuple[str, str]:
    strength, _, hue = look.rpartition(" ")
    return (strength, hue) if strength else (hue, "")


def _formula(row: Row) -> Verdict:
    stones = [kind.material for kind in _materials(row) if kind.material.kind != "rock"]
    ours = [material.formula.text for material in stones if material.formula]
    if not ours:
        return "a rock has no formula", None
    return "; ".join(ours), any(ours_and_theirs_agree(text, row["text"]) for text in ours)
