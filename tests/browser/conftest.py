"""A real server on a free port, and a real browser that asks nobody else."""

import socket
import threading
import time

import httpx
import pytest
import uvicorn
from playwright.sync_api import sync_playwright

from isogyre.desk import open_house
from isogyre.web import create_app

CHROMIUM = "/usr/bin/chromium"
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
SIZES = {"phone": (390, 844), "wide": (1440, 900)}


@pytest.fixture(scope="session")
def address(tmp_path_factory):
    """Return where the pages are served."""
    house = open_house(tmp_path_factory.mktemp("house"))
    listener = socket.create_server(("127.0.0.1", 0))
    config = uvicorn.Config(create_app(house), log_level="warning")
    server = uvicorn.Server(config)
    thread = threading.Thread(target=server.run, args=([listener],), daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.05)
    yield f"http://127.0.0.1:{listener.getsockname()[1]}"
    server.should_exit = True
    thread.join()
    house.close()


@pytest.fixture(scope="session")
def enter(address):
    """Return a way to enter a stone: `enter(colour="red")` gives the path of its page."""

    def entered(**record):
        answer = httpx.post(f"{address}/api/stones", json={"id": "a stone", **record})
        return f"/stones/{answer.raise_for_status().json()['id']}"

    return entered


@pytest.fixture(scope="session")
def chromium():
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield browser
        browser.close()


@pytest.fixture
def open_page(address, chromium):
    """Return a way to open a page, as `open_page("/", size="phone", light="dark")`."""
    contexts = []

    def opened(path="/", size="phone", light="light", **options):
        width, height = SIZES[size]
        context = chromium.new_context(
            base_url=address,
            viewport={"width": width, "height": height},
            color_scheme=light,
            reduced_motion="reduce",
            **options,
        )
        contexts.append(context)
        page = context.new_page()
        page.complaints = []
        page.on("console", lambda said: said.type == "error" and page.complaints.append(said.text))
        page.on("pageerror", lambda error: page.complaints.append(str(error)))
        page.goto(path)
        return page

    yield opened
    for context in contexts:
        context.close()
