"""Which feature is drawn by whom. The names are the catalogue's."""

from isogyre.drawing.scenes.assembly import ASSEMBLY
from isogyre.drawing.scenes.dendrites import DENDRITES
from isogyre.drawing.scenes.facets import FACETS
from isogyre.drawing.scenes.fissures import FISSURES
from isogyre.drawing.scenes.fluids import FLUIDS
from isogyre.drawing.scenes.growth import GROWTH
from isogyre.drawing.scenes.guests import GUESTS
from isogyre.drawing.scenes.metals import METALS
from isogyre.drawing.scenes.needles import NEEDLES
from isogyre.drawing.scenes.opals import OPALS
from isogyre.drawing.scenes.organics import ORGANICS
from isogyre.drawing.scenes.rocks import ROCKS
from isogyre.drawing.scenes.sheen import SHEEN
from isogyre.drawing.scenes.sheet import Row

ROWS: dict[str, Row] = {
    **NEEDLES,
    **GUESTS,
    **METALS,
    **DENDRITES,
    **FLUIDS,
    **FISSURES,
    **GROWTH,
    **OPALS,
    **FACETS,
    **ASSEMBLY,
    **ROCKS,
    **ORGANICS,
    **SHEEN,
}
