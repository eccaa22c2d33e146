"""The photo store gives back the same bytes, and takes no name but a hash."""

import errno
import os
from hashlib import sha256

import pytest
from hypothesis import given
from hypothesis import strategies as st

from isogyre.ledger import (
    LedgerFullError,
    LedgerReadOnlyError,
    NoHashError,
    PhotographDamagedError,
    PhotographMissingError,
    PhotoStore,
)

PICTURE = b"\xff\xd8 a picture"
NAME = sha256(PICTURE).hexdigest()


@pytest.fixture
def store(tmp_path):
    return PhotoStore(tmp_path / "photographs")


def files(folder):
    return sorted(path.name for path in folder.rglob("*") if path.is_file())


def test_a_picture_comes_back_under_its_hash(store):
    assert store.put(PICTURE) == NAME
    assert store.get(NAME) == PICTURE
    assert NAME in store


def test_the_same_picture_is_kept_once(store, tmp_path):
    store.put(PICTURE)
    store.put(PICTURE)
    store.put(b"")
    assert files(tmp_path) == list(store) == sorted([NAME, sha256(b"").hexdigest()])


@pytest.mark.parametrize(
    "name",
    ["", "..", "../../etc/passwd", NAME.upper(), NAME[:-1], NAME + "\n", f"/{NAME}", "é" * 64],
)
def test_a_name_that_is_no_hash_is_refused(store, name):
    with pytest.raises(NoHashError, match="not a SHA-256"):
        store.get(name)
    with pytest.raises(NoHashError):
        name in store  # noqa: B015


@given(name=st.text())
def test_no_text_leads_out_of_the_folder(tmp_path_factory, name):
    with pytest.raises(NoHashError):
        PhotoStore(tmp_path_factory.getbasetemp()).get(name)


def test_a_picture_that_is_missing_or_damaged_is_named(store, tmp_path):
    with pytest.raises(PhotographMissingError, match="backup"):
        store.get(NAME)
    store.put(PICTURE)
    (tmp_path / "photographs" / NAME[:2] / NAME).write_bytes(PICTURE[:-1])
    with pytest.raises(PhotographDamagedError, match="backup"):
        store.get(NAME)
    store.put(PICTURE)
    assert store.get(NAME) == PICTURE


def test_what_was_cut_short_is_no_picture(store, tmp_path, monkeypatch):
    def stop(*_):
        raise KeyboardInterrupt

    with monkeypatch.context() as patched:
        patched.setattr(os, "replace", stop)
        with pytest.raises(KeyboardInterrupt):
            store.put(PICTURE)
    assert files(tmp_path) == list(store) == []
    # A process that is killed outright leaves its unfinished file; it is not taken for a picture.
    (tmp_path / "photographs" / NAME[:2] / "unfinished-1").write_bytes(PICTURE[:3])
    assert list(store) == []
    assert NAME not in store


@pytest.mark.parametrize(
    ("number", "error"),
    [(errno.ENOSPC, LedgerFullError), (errno.EROFS, LedgerReadOnlyError), (errno.EIO, OSError)],
)
def test_a_disk_that_takes_no_more_is_named(store, monkeypatch, number, error):
    def refuse(*_):
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(os, "fsync", refuse)
    with pytest.raises(error, match=os.strerror(number)):
        store.put(PICTURE)
    assert list(store) == []
