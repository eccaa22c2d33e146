"""All figures on one page, for the eye: ``python -m tests.drawing.gallery FOLDER``.

Writes a page and, with a browser at hand, pictures of it at both widths in both lights.
"""

import shutil
import sys
from pathlib import Path

from playwright.sync_api import sync_playwright

from tests.browser.conftest import CHROMIUM, FLAGS, SIZES
from tests.drawing.examples import EXAMPLES

PACKAGE = Path(__file__).parents[2] / "src" / "isogyre"
SHEETS = (
    PACKAGE / "web" / "static" / "tokens.css",
    PACKAGE / "web" / "static" / "house.css",
    PACKAGE / "web" / "static" / "figures.css",
)
POLICY = "default-src 'self' file:"
GRID = """
.gallery { display: grid; grid-template-columns: repeat(auto-fill, minmax(300px, 340px));
  gap: 32px; padding: 16px; align-items: start; }
.gallery figcaption { font-size: 16px; padding-bottom: 8px; }
.gallery figure { margin: 0; }
"""


def page(names: list[str]) -> str:
    """Return a page of the named figures under the policy that the app sends."""
    figures = ""
    for i, name in enumerate(names):
        record, draw = EXAMPLES[name]
        figures += f"<figure><figcaption>{name}</figcaption>{draw(record, f'f{i}')}</figure>\n"
    links = "".join(f'<link rel="stylesheet" href="{sheet.name}">' for sheet in SHEETS)
    return (
        f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Figures</title>'
        f'<meta name="viewport" content="width=device-width">'
        f'<meta http-equiv="Content-Security-Policy" content="{POLICY}">{links}'
        f'<link rel="stylesheet" href="grid.css"></head>'
        f'<body><main class="gallery">{figures}</main></body></html>'
    )


def write(folder: Path, names: list[str]) -> Path:
    """Write the page with its sheets and faces; return where it lies."""
    folder.mkdir(parents=True, exist_ok=True)
    for sheet in SHEETS:
        shutil.copy(sheet, folder / sheet.name)
    (folder / "grid.css").write_text(GRID, "utf-8")
    faces = PACKAGE / "web" / "static" / "fonts"
    shutil.copytree(faces, folder / "fonts", dirs_exist_ok=True)
    (folder / "index.html").write_text(page(names), "utf-8")
    return folder / "index.html"


def photograph(written: Path) -> None:
    """Take a picture at each width in each light, beside the page."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        for size, (width, height) in SIZES.items():
            for light in ("light", "dark"):
                view = browser.new_page(
                    viewport={"width": width, "height": height}, color_scheme=light
                )
                view.goto(written.as_uri())
                view.screenshot(path=written.parent / f"{size}-{light}.png", full_page=True)
                view.close()
        browser.close()


def main(folder: str, wanted: str = "") -> None:
    """Write and photograph the figures whose name holds a word."""
    names = [name for name in EXAMPLES if wanted in name]
    photograph(write(Path(folder), names))


if __name__ == "__main__":
    main(*sys.argv[1:])
