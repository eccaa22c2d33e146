"""Kits of one's own, and what their figures do to a record."""

from collections.abc import Mapping
from typing import Any

from isogyre.desk.house import House
from isogyre.desk.workbench import Workbench
from isogyre.evidence import fields_of
from isogyre.instruments import Field
from isogyre.instruments.kits import DEFAULT_KIT, KITS, Kit
from isogyre.ledger import Kit as KeptKit
from isogyre.ledger import UnknownEntryError

# Where the house keeps which kit is in use.
IN_USE = "kit"


class KitNameTakenError(ValueError):
    """Another kit has this name already."""

    def __init__(self, name: str) -> None:
        super().__init__(f"there is a kit '{name}' already: give this one a name of its own")


class BuiltInKitError(ValueError):
    """A built-in kit cannot be removed."""

    def __init__(self, name: str) -> None:
        super().__init__(f"the kit '{name}' is built in and stays: use another one instead")


def kits_at_hand(house: House) -> tuple[Kit, ...]:
    """Return the built-in kits, then those of one's own by name."""
    with house.ledger.view() as work:
        return (*KITS.values(), *map(_kit, work.kits.all()))


def kit_named(house: House, name: str) -> Kit:
    """Return a built-in kit or one's own, or raise UnknownEntryError."""
    if name in KITS:
        return KITS[name]
    with house.ledger.view() as work:
        return _kit(work.kits.get(name))


def chosen_kit(house: House) -> Kit:
    """Return the kit in use; the usual one if none was chosen or the chosen one is gone."""
    with house.ledger.view() as work:
        name = work.settings.get(IN_USE, DEFAULT_KIT)
    try:
        return kit_named(house, name)
    except UnknownEntryError:
        return KITS[DEFAULT_KIT]


def kit_in_use(house: House, name: str = "") -> Kit:
    """Return the kit of this name if there is one, else the one that is in use."""
    return next((kit for kit in kits_at_hand(house) if kit.name == name), None) or chosen_kit(house)


def choose_kit(house: House, name: str) -> None:
    """Take a kit into use, or raise UnknownEntryError."""
    kit_named(house, name)
    with house.ledger.session() as work:
        work.settings.put(IN_USE, name)


def save_kit(house: House, kit: Kit, instead_of: str = "") -> None:
    """Keep a kit, in place of the one of one's own that is named; a new name renames it.

    Raises
    ------
    KitNameTakenError
        If another kit, built in or one's own, has this name.
    """
    with house.ledger.session() as work:
        others = {*KITS, *(kept.name for kept in work.kits.all())} - {instead_of}
        if kit.name in others or kit.name in KITS:
            raise KitNameTakenError(kit.name)
        work.kits.save(_row(kit))
        if instead_of not in ("", kit.name):
            work.kits.remove(instead_of)
            if work.settings.get(IN_USE) == instead_of:
                work.settings.put(IN_USE, kit.name)


def remove_kit(house: House, name: str) -> Kit:
    """Remove a kit of one's own and return it, so that it can be saved again.

    Raises
    ------
    BuiltInKitError
        If the kit is built in.
    UnknownEntryError
        If there is no kit of this name.
    """
    if name in KITS:
        raise BuiltInKitError(name)
    with house.ledger.session() as work:
        kept = work.kits.get(name)
        work.kits.remove(name)
    return _kit(kept)


def _kit(kept: KeptKit) -> Kit:
    return Kit(kept.name, kept.note, frozenset(kept.fields), kept.minutes, kept.errors)


def _row(kit: Kit) -> KeptKit:
    return KeptKit(
        name=kit.name,
        fields=tuple(sorted(kit.fields)),
        minutes=kit.minutes,
        errors=kit.errors,
        note=kit.about,
    )


def with_kit_errors(workbench: Workbench, record: Mapping[str, Any], kit: Kit) -> dict[str, Any]:
    """Return a record whose readings were taken with ``kit``, with the kit's errors beside them.

    What the record says itself stays, and nothing is added beside a reading that was not taken.
    """
    added = {
        key: kit.errors[key]
        for field in fields_of(workbench.instruments).values()
        if is_given(record, field.key)
        for key in figures_of(field)
        if key in kit.errors and not is_given(record, key)
    }
    return {**record, **added}


def figures_of(field: Field) -> tuple[str, ...]:
    """Return the keys of the instrument's own figures that a reading of ``field`` is read by."""
    return tuple(filter(None, (field.error_key, field.needs_key)))


def is_given(record: Mapping[str, Any], key: str) -> bool:
    """Return whether the record has an entry there; a blank one is none."""
    value = record.get(key)
    return value is not None and bool(str(value).strip())
