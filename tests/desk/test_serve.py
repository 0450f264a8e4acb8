"""The little server of `make site`."""

import threading
import urllib.request
from pathlib import Path

import pytest

from wetwing_tools.desk import serve


def test_it_serves_the_folder_to_this_machine_alone(tmp_path: Path) -> None:
    (tmp_path / "index.html").write_text("<title>Here</title>")
    with serve.server_for(tmp_path) as server:
        assert server.server_address[0] == "127.0.0.1"
        threading.Thread(target=server.serve_forever, daemon=True).start()
        with urllib.request.urlopen(f"http://127.0.0.1:{server.server_port}/", timeout=60) as answer:
            assert answer.read() == b"<title>Here</title>"
            assert answer.headers["Cache-Control"] == "no-cache"
        server.shutdown()


def test_a_taken_port_is_passed_over(tmp_path: Path) -> None:
    with serve.server_for(tmp_path) as first, serve.server_for(tmp_path, first.server_port) as second:
        assert second.server_port > first.server_port


def test_no_free_port_is_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with serve.server_for(tmp_path) as first:
        monkeypatch.setattr(serve, "PORTS_TRIED", 1)
        with pytest.raises(OSError, match="--port"):
            serve.server_for(tmp_path, first.server_port)


def test_a_folder_without_a_site_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("sys.argv", ["serve", str(tmp_path)])
    assert serve.main() == 1
    assert "make build" in capsys.readouterr().err
