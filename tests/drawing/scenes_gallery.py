"""All scenes on one page, for the eye: ``python -m tests.drawing.scenes_gallery FOLDER [WORD]``."""

import shutil
import sys
from pathlib import Path

from playwright.sync_api import sync_playwright

from isogyre.drawing.scenes import draw_feature, draw_scene, drawn_features
from tests.browser.conftest import CHROMIUM, FLAGS
from tests.drawing.gallery import SHEETS

HUES = (("blue", 0.5), ("colourless", 0.5), ("red", 0.5), ("green", 0.4), ("yellow", 0.5))
MIXED = (
    ("silk", "fingerprint"),
    ("curved striae", "gas bubbles", "feathers"),
    ("two-phase inclusions", "horsetail", "lily pads", "flux veil"),
)
GRID = """
body { margin: 0; }
.scenes { display: grid; max-width: none; gap: 8px; padding: 8px;
  grid-template-columns: repeat(auto-fill, WIDTHpx); }
.scenes figure { margin: 0; }
.scenes figcaption { font: 11px sans-serif; overflow-wrap: anywhere; }
"""


def page(names: list[str], size: str) -> str:
    """Return a page of the named scenes at one size."""
    figures = ""
    for i, name in enumerate(names):
        hue, tone = HUES[i % len(HUES)]
        drawn = draw_feature(name, f"s{i}", hue, tone, size)
        figures += f"<figure>{drawn}<figcaption>{name}</figcaption></figure>\n"
    if size == "view":
        for i, mixed in enumerate(MIXED):
            drawn = draw_scene(mixed, f"m{i}", *HUES[i])
            figures += f"<figure>{drawn}<figcaption>{', '.join(mixed)}</figcaption></figure>\n"
    links = "".join(f'<link rel="stylesheet" href="{sheet.name}">' for sheet in SHEETS)
    return (
        f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Scenes</title>{links}'
        f'<link rel="stylesheet" href="{size}.css"></head>'
        f'<body><main class="scenes">{figures}</main></body></html>'
    )


def main(folder: str, word: str = "") -> None:
    """Write and photograph the scenes whose name holds a word, at both sizes in both lights."""
    names = sorted(name for name in drawn_features() if word in name)
    place = Path(folder)
    place.mkdir(parents=True, exist_ok=True)
    for sheet in SHEETS:
        shutil.copy(sheet, place / sheet.name)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        for size, width, across in (("list", 96, 1300), ("view", 300, 1560)):
            (place / f"{size}.css").write_text(GRID.replace("WIDTH", str(width)), "utf-8")
            written = place / f"{size}.html"
            written.write_text(page(names, size), "utf-8")
            for light in ("light", "dark"):
                view = browser.new_page(
                    viewport={"width": across, "height": 900}, color_scheme=light
                )
                view.goto(written.as_uri())
                view.screenshot(path=place / f"{size}-{light}.png", full_page=True)
                view.close()
        browser.close()


if __name__ == "__main__":
    main(*sys.argv[1:])
