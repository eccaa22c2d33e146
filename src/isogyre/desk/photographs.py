"""Photographs as they come in: looked at, kept unchanged, and shown small."""

import logging
import re
import struct
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from io import BytesIO

from PIL import Image, ImageOps

from isogyre.desk.errors import RecordTroubleError
from isogyre.desk.house import House
from isogyre.instruments import Trouble
from isogyre.ledger import (
    Photograph,
    PhotographDamagedError,
    PhotographMissingError,
    UnknownEntryError,
)

# A camera that writes several pictures into one file still writes a JPEG.
MEDIA_TYPES = {
    "JPEG": "image/jpeg",
    "MPO": "image/jpeg",
    "PNG": "image/png",
    "WEBP": "image/webp",
}
SMALL_PX = 480
# A small file can unfold to more than the memory holds; no camera at a bench needs more.
MOST_PIXELS = 80_000_000
EXIF_PART, DATE_TAKEN, OFFSET_TAKEN, ORIENTATION = 0x8769, 0x9003, 0x9011, 0x0112
LYING_ON_ITS_SIDE = range(5, 9)

log = logging.getLogger(__name__)

File = tuple[str, bytes]
Refused = Sequence[Trouble]


class PictureError(ValueError):
    """A file is no photograph that can be kept."""


@dataclass(frozen=True)
class Picture:
    """What a photograph says of itself; width and height as it is seen upright."""

    media_type: str
    width_px: int
    height_px: int
    taken_at: datetime | None


def look_at(data: bytes) -> Picture:
    """Return what a photograph says of itself, after reading all of it.

    A date without a zone, as most cameras write it, is taken for this machine's local time.

    Raises
    ------
    PictureError
        If it is no JPEG, PNG or WebP, is not whole, or unfolds to too many pixels.
    """
    image = _opened(data)
    try:
        exif = image.getexif()
        is_lying = exif.get(ORIENTATION) in LYING_ON_ITS_SIDE
        taken_at = _taken_at(exif)
    except (OSError, SyntaxError, ValueError, struct.error):
        is_lying, taken_at = False, None
    width, height = reversed(image.size) if is_lying else image.size
    media_type = MEDIA_TYPES[image.format or ""]
    small_picture(data)
    return Picture(media_type, width, height, taken_at)


def small_picture(data: bytes) -> bytes:
    """Return a photograph upright, at most 480 px wide and high, as a JPEG.

    Nothing that the camera wrote beside the picture is passed on, such as where it was taken,
    but the profile that its colours need. Raises as `look_at`.
    """
    image = _opened(data)
    try:
        image.draft("RGB", (SMALL_PX, SMALL_PX))
        upright = ImageOps.exif_transpose(image)
        upright.thumbnail((SMALL_PX, SMALL_PX))
        profile = image.info.get("icc_profile") if upright.mode == "RGB" else None
        clear = upright.convert("RGBA")
    except (OSError, SyntaxError, ValueError, struct.error) as error:
        raise PictureError("is damaged or not whole: send it again") from error
    # A new picture carries nothing over; what is clear in a PNG lies on white paper.
    bare = Image.new("RGB", clear.size, "white")
    bare.paste(clear, mask=clear)
    written = BytesIO()
    bare.save(written, "JPEG", quality=88, icc_profile=profile)
    return written.getvalue()


def _opened(data: bytes) -> Image.Image:
    try:
        image = Image.open(BytesIO(data), formats=("JPEG", "PNG", "WEBP"))
    except (Image.DecompressionBombError, Image.DecompressionBombWarning) as error:
        raise PictureError(_too_many()) from error
    except (OSError, SyntaxError, ValueError, struct.error) as error:
        raise PictureError(
            "is no photograph in JPEG, PNG or WebP: a camera that writes HEIC can be set to JPEG"
        ) from error
    if image.width * image.height > MOST_PIXELS:
        raise PictureError(_too_many())
    return image


def _too_many() -> str:
    return f"has more than {MOST_PIXELS // 1_000_000} million pixels: send a smaller one"


def _taken_at(exif: Image.Exif) -> datetime | None:
    part = exif.get_ifd(EXIF_PART)
    text = f"{part.get(DATE_TAKEN, '')}{part.get(OFFSET_TAKEN, '')}".replace("\0", "").strip()
    for pattern in ("%Y:%m:%d %H:%M:%S%z", "%Y:%m:%d %H:%M:%S"):
        try:
            return datetime.strptime(text, pattern).astimezone(UTC)
        except (ValueError, OverflowError):
            continue
    return None


# ---- keeping and showing ---------------------------------------------------------------------


def keep_pictures(house: House, files: Sequence[File]) -> tuple[list[str], Refused]:
    """Keep the bytes of the files that are photographs; return their hashes, and what is not.

    The bytes are safe from then on, whatever happens to the form that they came with.
    """
    hashes, troubles = [], []
    for name, data in files:
        try:
            look_at(data)
            hashes.append(house.photos.put(data))
        except PictureError as error:
            troubles.append(Trouble("photographs", f"'{name[:60]}' {error}"))
    return hashes, troubles


def known_pictures(house: House, hashes: Sequence[str]) -> tuple[str, ...]:
    """Return those hashes under which a photograph is kept, each once."""
    named = [name for name in dict.fromkeys(hashes) if re.fullmatch("[0-9a-f]{64}", name)]
    return tuple(name for name in named if name in house.photos)


def photograph_of(house: House, stone_id: str, sha256: str, note: str = "") -> Photograph:
    """Return the entry of a stone's photograph whose bytes are kept under a hash."""
    picture = look_at(house.photos.get(sha256))
    return Photograph(
        id=house.new_id(),
        stone_id=stone_id,
        sha256=sha256,
        media_type=picture.media_type,
        width_px=picture.width_px,
        height_px=picture.height_px,
        added_at=house.now(),
        taken_at=picture.taken_at,
        note=note,
    )


def add_photographs(
    house: House, stone_id: str, pictures: Sequence[str], note: str = "", refused: Refused = ()
) -> None:
    """Add photographs to a stone, of which the bytes are kept under these hashes.

    Raises
    ------
    RecordTroubleError
        If a file was refused, or none was sent; the others are added.
    UnknownEntryError
        If no stone has this id.
    """
    photographs = [photograph_of(house, stone_id, name, note) for name in pictures]
    with house.ledger.session() as work:
        work.stones.get(stone_id)
        work.photographs.append(*photographs)
    if refused:
        raise RecordTroubleError(refused)
    if not pictures:
        words = "choose one or more photographs first"
        raise RecordTroubleError([Trouble("photographs", words)])


def photograph_bytes(house: House, photograph_id: str) -> tuple[bytes, str]:
    """Return a photograph as it came in and its media type.

    Raises
    ------
    UnknownEntryError
        If it is unknown, or its file is missing or no longer what was put in.
    """
    with house.ledger.view() as work:
        photograph = work.photographs.get(photograph_id)
    try:
        return house.photos.get(photograph.sha256), photograph.media_type
    except (PhotographMissingError, PhotographDamagedError) as error:
        log.exception("the photograph %s cannot be shown", photograph_id)
        raise UnknownEntryError("photograph", photograph_id) from error


@dataclass(frozen=True)
class PhotographsPage:
    """A stone's photographs and the form to add some, with what was refused."""

    stone_id: str
    title: str
    photographs: tuple[Photograph, ...]
    note: str
    troubles: tuple[str, ...]


def photographs_page(
    house: House, stone_id: str, note: str = "", troubles: Sequence[Trouble] = ()
) -> PhotographsPage:
    """Return a stone's photographs, or raise UnknownEntryError."""
    with house.ledger.view() as work:
        stone = work.stones.get(stone_id)
        shown = work.photographs.of_stone(stone_id)
    return PhotographsPage(stone_id, stone.name, shown, note, tuple(t.message for t in troubles))
