"""Finding a browser for the tests."""

import os
import sys
from pathlib import Path

import pytest

from wetwing_tools.desk import chromium


def program(path: Path, code: int) -> Path:
    path.write_text(f"#!/bin/sh\nexit {code}\n")
    path.chmod(0o755)
    return path


def test_a_named_browser_is_taken(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    named = program(tmp_path / "my-chromium", 0)
    monkeypatch.setenv(chromium.VARIABLE, str(named))
    assert chromium.find() == named


@pytest.mark.parametrize("code", [1, None])
def test_a_named_browser_that_does_not_start_is_refused(
    code: int | None, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    named = tmp_path / "broken"
    if code is not None:
        program(named, code)
    monkeypatch.setenv(chromium.VARIABLE, str(named))
    with pytest.raises(chromium.NoBrowser, match="broken"):
        chromium.find()


def test_a_browser_on_the_path_that_does_not_start_is_passed_over(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    program(tmp_path / "chromium", 127)
    second = program(tmp_path / "google-chrome", 0)
    monkeypatch.delenv(chromium.VARIABLE, raising=False)
    monkeypatch.setenv("PATH", f"{tmp_path}{os.pathsep}/usr/bin-that-is-not")
    assert chromium.find() == second


def test_nothing_to_be_had_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(chromium, "find", lambda: None)
    monkeypatch.setattr(chromium, "run_limited", lambda command, limit_s: None)
    with pytest.raises(chromium.NoBrowser, match="chromium package"):
        chromium.ensure()


def test_a_download_that_never_ends_is_ended(capfd: pytest.CaptureFixture[str]) -> None:
    chromium.run_limited([sys.executable, "-c", "import time; time.sleep(60)"], limit_s=1)
    assert "no result in 1 s" in capfd.readouterr().out
