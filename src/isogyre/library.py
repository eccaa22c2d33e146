"""The door for programs: a record of one stone, and the question what it is.

Nothing of the bench is loaded before the first question, so that importing is quick.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from functools import cache
from typing import TYPE_CHECKING, Any, Literal

if TYPE_CHECKING:
    from isogyre.desk import IdentifyAnswer, Workbench

Number = float | str


@dataclass(frozen=True, kw_only=True)
class Record:
    """What was seen, measured and told of one stone. Every field may be left out.

    A field left out was not looked at; that is not the same as ``not_seen``, which holds what was
    looked for in vain. A number may be written as text, with a decimal comma or its unit. What no
    field is named after is refused at once (``TypeError``); what cannot be, such as an index of
    17, is refused when the record is read.

    The stone
        ``id`` (any name), ``form`` (faceted, cabochon, bead, carving, rough, mounted),
        ``weight_ct``, ``measures_mm``, ``note``, ``place``, ``whose``, ``price``: kept, not
        weighed, but for the form. ``met``: bench, market, known dealer, old piece, parcel of rough.
    By eye
        ``colour`` in ``light`` (daylight, incandescent, white-led), ``colour_incandescent``,
        ``tone``, ``saturation``, ``transparency`` (transparent, translucent, opaque), ``lustre``.
    Loupe and microscope
        ``magnification``: phrases for what was seen. ``not_seen``: looked for and not seen.
    Refractometer
        ``ri_low``, ``ri_high``: the edges, 1.3 to 3.5; the same figure twice for one edge that
        does not move. ``ri_turn``: full, or single for one position. ``ri_spot``: on a curved
        surface. ``ri_sd``: error of an edge, 0.0002 to 0.05; ``ri_spot_sd``: of a spot, 0.001
        to 0.05. ``ri_limit``: end of the scale with this liquid, 1.6 to 2.0. ``ri_text``: in
        words, such as beyond the limit. ``ri_kind``: 'range over samples' for a spread over
        several stones. ``birefringence``: 0 to 0.4.
    Crossed polars
        ``polariscope`` (SR, DR, AGG, ADR), ``optic_character`` (isotropic, uniaxial, biaxial,
        aggregate), ``optic_sign`` (+ or -).
    Balance
        ``weight_air_ct`` and ``weight_liquid_ct`` in ``liquid`` (water, ethanol, toluene) at
        ``temperature_c``, on a balance with last step ``balance_readability_ct``; or ``sg`` as
        printed, 0.8 to 20, with its error ``sg_sd`` and ``sg_method``. ``heavy_liquid``:
        ``{"sg": 3.32, "result": "sinks"}``.
    Light
        ``pleochroism``, ``spectrum_lines_nm`` (400 to 700), ``spectrum_text``, ``uv_lw`` at
        ``uv_peak_nm``, ``uv_sw``, ``chelsea`` (colour filter).
    Quick tests
        ``magnet`` (none, weak, strong), ``thermal`` (low, middling, diamond-like), ``electrical``
        (no, conducts), ``reflectivity_index`` with its error ``reflectivity_sd``, ``hardness``
        (from rough or a report).
    Told
        ``claim``: what the seller says. ``laboratory``: ``{"conclusion": ..., "degree": ...,
        "date": ..., "matched": True}``; it counts in full only if it is matched to this stone.
    """

    id: str | None = None
    form: str | None = None
    weight_ct: Number | None = None
    measures_mm: Sequence[float] | str | None = None
    note: str | None = None
    place: str | None = None
    whose: str | None = None
    price: Number | None = None
    met: str | None = None
    colour: str | None = None
    light: Literal["daylight", "incandescent", "white-led"] | None = None
    colour_incandescent: str | None = None
    tone: str | None = None
    saturation: str | None = None
    transparency: str | None = None
    lustre: str | None = None
    magnification: Sequence[str] | str | None = None
    not_seen: Sequence[str] | str | None = None
    ri_low: Number | None = None
    ri_high: Number | None = None
    ri_turn: Literal["full", "single"] | None = None
    ri_spot: Number | None = None
    ri_sd: Number | None = None
    ri_spot_sd: Number | None = None
    ri_limit: Number | None = None
    ri_text: str | None = None
    ri_kind: str | None = None
    birefringence: Number | None = None
    polariscope: str | None = None
    optic_character: str | None = None
    optic_sign: str | None = None
    weight_air_ct: Number | None = None
    weight_liquid_ct: Number | None = None
    liquid: str | None = None
    temperature_c: Number | None = None
    balance_readability_ct: Number | None = None
    sg: Number | None = None
    sg_sd: Number | None = None
    sg_method: str | None = None
    heavy_liquid: Mapping[str, Any] | None = None
    pleochroism: str | None = None
    spectrum_lines_nm: Sequence[float] | str | None = None
    spectrum_text: str | None = None
    uv_lw: str | None = None
    uv_peak_nm: Number | None = None
    uv_sw: str | None = None
    chelsea: str | None = None
    magnet: str | None = None
    thermal: str | None = None
    electrical: str | None = None
    reflectivity_index: Number | None = None
    reflectivity_sd: Number | None = None
    hardness: Number | None = None
    claim: str | Mapping[str, Any] | None = None
    laboratory: Mapping[str, Any] | None = None

    def entries(self) -> dict[str, Any]:
        """Return what was entered, under the keys a record has in a file."""
        values = ((field.name, getattr(self, field.name)) for field in fields(self))
        return {name: value for name, value in values if value is not None}


def identify(
    record: Record | Mapping[str, Any], kit: str = "bench", settle: str = "name"
) -> IdentifyAnswer:
    """Return what the stone can be, how sure that is, why, and what to test next.

    Parameters
    ----------
    record
        A :class:`Record`, or a mapping with the same keys.
    kit
        What is at hand for the next test: ``pocket``, ``bench`` or ``full``.
    settle
        What the next test is to settle: ``name``, ``natural`` or ``treated``.

    Returns
    -------
    answer
        A dictionary, as ``isogyre identify --json`` prints it. Probabilities lie between 0 and
        1; those of ``species``, of ``origin`` and of ``treated`` each sum to 1.

    Raises
    ------
    isogyre.desk.RecordTroubleError
        A ``ValueError``: an entry is impossible, or nothing in the record can be used. Its
        ``troubles`` say which entries and how to mend them.
    isogyre.desk.UnknownWordError
        A ``ValueError``: ``kit`` or ``settle`` is none of the words it can be.
    """
    from isogyre import desk

    entries = record.entries() if isinstance(record, Record) else record
    return desk.identify(_workbench(), entries, kit, settle)


@cache
def _workbench() -> Workbench:
    """Open the workbench at the first question, and keep it for the next."""
    from isogyre import desk

    return desk.open_workbench()
