"""Finding a Firefox for the tests in a second engine."""

import os
from pathlib import Path

import pytest

from wetwing_tools.desk import firefox
from wetwing_tools.desk.chromium import NoBrowser


def program(path: Path, code: int) -> Path:
    path.write_text(f"#!/bin/sh\nexit {code}\n")
    path.chmod(0o755)
    return path


def test_a_named_firefox_is_taken_and_one_that_does_not_start_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(firefox.VARIABLE, str(program(tmp_path / "mine", 0)))
    assert firefox.ensure() == tmp_path / "mine"
    monkeypatch.setenv(firefox.VARIABLE, str(program(tmp_path / "broken", 1)))
    with pytest.raises(NoBrowser, match="broken"):
        firefox.ensure()


def test_the_second_name_on_the_path_serves_where_the_first_does_not_start(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    program(tmp_path / "firefox", 127)
    second = program(tmp_path / "firefox-esr", 0)
    monkeypatch.delenv(firefox.VARIABLE, raising=False)
    monkeypatch.setenv("PATH", str(tmp_path) + os.pathsep + "/nowhere")
    assert firefox.ensure() == second


def test_a_firefox_that_cannot_be_had_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(firefox, "find", lambda: None)
    monkeypatch.setattr(firefox, "install", lambda *packages: False)
    with pytest.raises(NoBrowser, match="firefox-esr package"):
        firefox.ensure()
