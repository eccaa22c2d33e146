"""What the pages of the materials consist of: facts in words, each with its sources."""

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True)
class Fact:
    """One thing said about a material, and the keys of who says it."""

    label: str
    text: str
    sources: tuple[str, ...] = ()


@dataclass(frozen=True)
class ClaimRow:
    """A constant as one source gives it."""

    text: str
    sources: tuple[str, ...]
    note: str
    is_followed: bool


@dataclass(frozen=True)
class ConstantRow:
    """A constant: the range followed, how it was come by, and what the virtual stones show."""

    label: str
    followed: str
    rule: str
    drawn: str
    disagree: bool
    claims: tuple[ClaimRow, ...]


@dataclass(frozen=True)
class Told:
    """A test that parts two kinds of stone, and what it shows for each."""

    test: str
    here: str
    there: str


@dataclass(frozen=True)
class LookPart:
    """A colour type of a material."""

    name: str
    facts: tuple[Fact, ...]


@dataclass(frozen=True)
class GrownPart:
    """The material grown in one way."""

    name: str
    what: str
    share: str
    constants: tuple[ConstantRow, ...]
    told: tuple[Told, ...]
    facts: tuple[Fact, ...]
    looks: tuple[LookPart, ...]
    compare_as: str


@dataclass(frozen=True)
class TreatmentPart:
    """A treatment practised on the material, and how far hand tests reach."""

    name: str
    what: str
    limit: str
    facts: tuple[Fact, ...]


@dataclass(frozen=True)
class LookalikePart:
    """A material taken for this one."""

    name: str
    told: tuple[Told, ...]


@dataclass(frozen=True)
class SourceRow:
    """A source that the card cites."""

    key: str
    text: str


@dataclass(frozen=True)
class ViewPart:
    """What one instrument shows of the material, drawn and in words, and how far that goes."""

    instrument: str
    seen: str
    svg: str
    limit: str


@dataclass(frozen=True)
class MaterialPage:
    """Everything on the card of one material.

    ``compare_as`` is the name under which it is compared; ``drawings`` holds for each feature on
    the card where its drawing is kept. ``views`` are of its most usual stones, ``shown_of``.
    """

    name: str
    about: str
    asked: str
    related: tuple[str, ...]
    facts: tuple[Fact, ...]
    constants: tuple[ConstantRow, ...]
    grown: tuple[GrownPart, ...]
    treatments: tuple[TreatmentPart, ...]
    lookalikes: tuple[LookalikePart, ...]
    care: tuple[Fact, ...]
    care_of_looks: tuple[LookPart, ...]
    cautions: tuple[Fact, ...]
    note: str
    sources: tuple[SourceRow, ...]
    from_memory: str
    compare_as: str
    drawings: Mapping[str, str]
    shown_of: str
    views: tuple[ViewPart, ...]


@dataclass(frozen=True)
class UnknownMaterialPage:
    """A name the catalogue does not hold, and those that come near it."""

    name: str
    near: tuple[str, ...]


@dataclass(frozen=True)
class ChooserBox:
    """One kind of stone to be compared, as typed, with what is wrong with it, if anything."""

    word: str
    typed: str
    remark: str = ""
    near: tuple[str, ...] = ()


@dataclass(frozen=True)
class Chooser:
    """The boxes in which the kinds to be compared are named, and the names that are known."""

    boxes: tuple[ChooserBox, ...]
    names: tuple[str, ...]


@dataclass(frozen=True)
class MaterialRow:
    """A material in the list."""

    name: str
    also: str
    index: str
    density: str


@dataclass(frozen=True)
class FamilyPart:
    """The materials of one family."""

    name: str
    rows: tuple[MaterialRow, ...]


@dataclass(frozen=True)
class MaterialsPage:
    """The list of materials, or the part of it that was looked for."""

    find: str
    count: str
    families: tuple[FamilyPart, ...]
    near: tuple[str, ...]
    chooser: Chooser
