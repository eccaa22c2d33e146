"""`isogyre serve` opens the pages, and says so on standard error when it cannot."""

import http.client
import re
import signal
import socket
import subprocess
import sys

from isogyre.cli import serve

SERVE = [sys.executable, "-m", "isogyre.cli", "serve"]


def test_the_pages_open_on_this_machine_and_close_when_told():
    with subprocess.Popen(
        [*SERVE, "--port", "0"], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    ) as server:
        try:
            said = iter(server.stderr.readline, "")
            found = (re.search(r"http://127\.0\.0\.1:(\d+)", line) for line in said)
            port = int(next(match for match in found if match).group(1))
            page = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
            page.request("GET", "/")
            assert page.getresponse().status < 400
            page.close()
        finally:
            server.send_signal(signal.SIGINT)
        assert server.stdout.read() == ""
    assert server.returncode in (0, 130)


def test_a_port_that_is_taken_is_told_and_ends_with_a_fault():
    with socket.create_server(("127.0.0.1", 0)) as taken:
        command = [*SERVE, "--port", str(taken.getsockname()[1])]
        ran = subprocess.run(command, capture_output=True, text=True)
    assert ran.returncode == 1
    assert ran.stdout == ""
    assert "address already in use" in ran.stderr


def test_pages_that_cannot_be_loaded_end_with_a_fault(isogyre, monkeypatch):
    monkeypatch.setattr(serve, "PAGES", "isogyre.no_such_pages:create_app")
    assert isogyre("serve").code == 1
