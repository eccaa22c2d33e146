"""Pages without a server: one application, and what a page holds as a person meets it."""

from dataclasses import dataclass, field
from html.parser import HTMLParser

import pytest
from fastapi.testclient import TestClient

from isogyre.desk import open_house, open_workbench
from isogyre.web import create_app

HERE = "http://127.0.0.1"


@pytest.fixture(scope="session")
def workbench():
    return open_workbench()


@pytest.fixture(scope="session")
def house(tmp_path_factory, workbench):
    house = open_house(tmp_path_factory.mktemp("house"), workbench=workbench)
    yield house
    house.close()


@pytest.fixture(scope="session")
def app(house):
    return create_app(house)


@pytest.fixture
def client(app):
    return TestClient(app, base_url=HERE, raise_server_exceptions=False)


@dataclass
class Page(HTMLParser):
    """The elements of a page, and what its form would send."""

    text: str
    elements: list[tuple[str, dict[str, str]]] = field(default_factory=list)
    entries: dict[str, str] = field(default_factory=dict)
    # The readings that its sheets are filled with.
    shown: list[str] = field(default_factory=list)

    def __post_init__(self):
        super().__init__()
        self._select = self._textarea = ""
        self.feed(self.text)

    def handle_starttag(self, tag, attrs):
        element = {name: value or "" for name, value in attrs}
        self.elements.append((tag, element))
        name, kind = element.get("name", ""), element.get("type", "")
        if tag == "textarea":
            self._textarea = name
            self.entries[name] = ""
        elif tag == "select":
            self._select = name
            self.entries[name] = ""
        elif tag == "option" and "selected" in element:
            self.entries[self._select] = element.get("value", "")
        elif name == "shown":
            self.shown.append(element["value"])
        elif tag == "input" and (kind not in {"radio", "checkbox"} or "checked" in element):
            self.entries[name] = element.get("value", "")

    def handle_endtag(self, tag):
        if tag == "textarea":
            # The line break after the tag is none of the text.
            self.entries[self._textarea] = self.entries[self._textarea].removeprefix("\n")
            self._textarea = ""

    def handle_data(self, data):
        if self._textarea:
            self.entries[self._textarea] += data
            return
        tag, element = self.elements[-1] if self.elements else ("", {})
        if tag == "option" and "selected" in element and data.strip():
            self.entries[self._select] = data.strip()

    def named(self, name):
        """Return the attributes of the control of this name."""
        return next(e for _, e in self.elements if e.get("name") == name)


@pytest.fixture
def read_page():
    return Page
