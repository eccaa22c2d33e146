"""What holds for every figure: a page may show it as it is, and a reader hears what is seen."""

import re
from collections import Counter
from xml.etree import ElementTree

import pytest

from isogyre.drawing.errors import PrefixError
from tests.drawing.examples import EXAMPLES

NAMESPACE = "{http://www.w3.org/2000/svg}"
REFERENCE = re.compile(r"url\(#([^)]*)\)")
FIGURE_OR_WORD = re.compile(r"nan|inf", re.IGNORECASE)
# What a page may show of a figure; whatever runs, loads or links is not among it.
ELEMENTS = {
    *("svg", "title", "desc", "defs", "g", "path", "rect", "circle", "ellipse", "text", "tspan"),
    *("linearGradient", "radialGradient", "stop", "clipPath", "filter", "feGaussianBlur"),
}


@pytest.fixture(params=EXAMPLES)
def drawn(request):
    """Return an example's figure as text."""
    record, draw = EXAMPLES[request.param]
    return draw(record, "own")


@pytest.fixture
def root(drawn):
    """Return the figure as a tree; it must be well-formed for that."""
    return ElementTree.fromstring(drawn)


def test_it_is_an_image_with_a_name_and_a_description(root):
    assert root.tag == f"{NAMESPACE}svg"
    assert root.get("role") == "img"
    named = [root.find(f"*[@id='{part}']") for part in root.get("aria-labelledby").split()]
    assert [part.tag for part in named] == [f"{NAMESPACE}title", f"{NAMESPACE}desc"]
    assert all(part.text.strip() for part in named)


def test_nothing_in_it_is_forbidden_by_the_policy_of_the_pages(root):
    names = {part.tag.removeprefix(NAMESPACE) for part in root.iter()}
    assert names <= ELEMENTS
    attributes = {name for part in root.iter() for name in part.attrib}
    assert not {name for name in attributes if name == "style" or name.startswith("on")}
    assert not {name for name in attributes if name.endswith("href")}


def test_every_id_begins_with_the_prefix_and_stands_once(root):
    ids = Counter(part.get("id") for part in root.iter() if part.get("id"))
    assert all(name.startswith("own-") for name in ids)
    assert max(ids.values()) == 1


def test_what_it_refers_to_is_in_it(drawn, root):
    ids = {part.get("id") for part in root.iter()}
    assert set(REFERENCE.findall(drawn)) <= ids


def test_every_figure_in_it_is_a_number(root):
    for part in root.iter():
        for name, value in part.attrib.items():
            if name not in ("id", "fill", "aria-labelledby", "clip-path", "filter"):
                assert not FIGURE_OR_WORD.search(value), f"{name} of {part.tag}: {value}"


def test_its_text_stays_on_the_sheet(root):
    left, top, width, height = map(float, root.get("viewBox").split())
    for text in root.iter(f"{NAMESPACE}text"):
        assert left <= float(text.get("x")) <= left + width
        # A letter of the page's face goes 4 units below its line.
        assert top <= float(text.get("y")) <= top + height - 4


def test_it_is_drawn_the_same_way_at_every_call(drawn, request):
    record, draw = EXAMPLES[request.node.callspec.params["drawn"]]
    assert draw(record, "own") == drawn


@pytest.mark.parametrize("prefix", ["", "1st", "a b", 'a"', "-a", "é"])
def test_a_prefix_that_cannot_open_an_id_is_refused(prefix):
    record, draw = EXAMPLES["one edge"]
    with pytest.raises(PrefixError):
        draw(record, prefix)
