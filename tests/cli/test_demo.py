"""`isogyre demo` loads an invented bench, once, and never beside stones that are there."""

import pytest

import dev


def test_the_demo_is_loaded_into_a_new_folder_and_counted(isogyre, tmp_path):
    folder = tmp_path / "bench"
    loaded = isogyre("demo", "--data", folder, "--json")
    assert loaded.code == 0
    assert loaded.answer["stones"] >= 26
    assert loaded.answer["readings"] > 10 * loaded.answer["stones"]
    again = isogyre("demo", "--data", folder)
    assert (again.code, again.out) == (2, "")
    assert len(again.err.splitlines()) == 1
    assert "nothing was loaded" in again.err
    quiet = isogyre("demo", "--data", folder, "--if-empty")
    assert (quiet.code, quiet.out, quiet.err) == (0, "", "")


def test_a_folder_that_cannot_be_made_is_told(isogyre, tmp_path):
    (tmp_path / "file").write_text("")
    refused = isogyre("demo", "--data", tmp_path / "file")
    assert refused.code == 2
    assert "folder" in refused.err


def test_an_address_of_an_unknown_kind_is_told(isogyre, tmp_path):
    refused = isogyre("demo", "--data", tmp_path, "--database-url", "mysql://nowhere/none")
    assert refused.code == 2
    assert "unknown kind" in refused.err


@pytest.mark.parametrize(
    ("options", "variable"), [(["--data", "x"], ""), (["--database-url=x"], ""), ([], "x")]
)
def test_a_bench_that_is_named_is_opened_without_the_demo(monkeypatch, options, variable):
    monkeypatch.delenv("ISOGYRE_DATABASE_URL", raising=False)
    monkeypatch.delenv("ISOGYRE_DATA", raising=False)
    assert not dev.names_a_bench([])
    if variable:
        monkeypatch.setenv("ISOGYRE_DATA", variable)
    assert dev.names_a_bench(options)


def test_the_demo_goes_into_a_folder_of_its_own(monkeypatch, tmp_path):
    ran = []
    monkeypatch.setattr(dev, "DEMO", tmp_path / "bench")
    monkeypatch.setattr(dev, "call", lambda *command: ran.append(command) or 0)
    monkeypatch.setenv("ISOGYRE_DATA", "elsewhere")
    dev.open_demo()
    assert ran == [("isogyre", "demo", "--if-empty")]
    assert dev.os.environ["ISOGYRE_DATA"] == str(tmp_path / "bench")
    assert (tmp_path / "bench/.gitignore").read_text() == "*\n"
