"""`isogyre serve` opens the pages, and says so on standard error when it cannot."""

import http.client
import re
import signal
import socket
import subprocess
import sys

from isogyre.cli import serve

SERVE = [sys.executable, "-m", "isogyre.cli", "serve"]


def test_the_pages_open_on_this_machine_and_close_when_told(tmp_path):
    command = [*SERVE, "--port", "0", "--data", str(tmp_path / "stones")]
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    ) as server:
        try:
            said = iter(server.stderr.readline, "")
            found = (re.search(r"http://127\.0\.0\.1:(\d+)", line) for line in said)
            port = int(next(match for match in found if match).group(1))
            page = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
            page.request("POST", "/api/stones", '{"id": "a", "colour": "red"}')
            assert page.getresponse().status == 201
            page.close()
        finally:
            server.send_signal(signal.SIGINT)
        assert server.stdout.read() == ""
    assert server.returncode in (0, 130)
    assert list((tmp_path / "stones").glob("*.sqlite"))


def test_a_port_that_is_taken_is_told_and_ends_with_a_fault(tmp_path):
    with socket.create_server(("127.0.0.1", 0)) as taken:
        command = [*SERVE, "--port", str(taken.getsockname()[1]), "--data", str(tmp_path)]
        ran = subprocess.run(command, capture_output=True, text=True)
    assert ran.returncode == 1
    assert ran.stdout == ""
    assert "address already in use" in ran.stderr


def test_pages_that_cannot_be_loaded_end_with_a_fault(isogyre, monkeypatch, tmp_path):
    monkeypatch.setattr(serve, "PAGES", "isogyre.no_such_pages:create_app")
    monkeypatch.setenv("ISOGYRE_DATA", "")
    assert isogyre("serve", "--data", tmp_path).code == 1


def test_a_folder_that_cannot_be_made_is_bad_input(isogyre, tmp_path):
    (tmp_path / "a-file").write_text("")
    ended = isogyre("serve", "--data", tmp_path / "a-file" / "stones")
    assert ended.code == 2
    assert "cannot be made a folder" in ended.err
