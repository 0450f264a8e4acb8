"""Serve the built site on this machine alone, at a printed address, until interrupted."""

import argparse
import functools
import http.server
import sys
from pathlib import Path

FIRST_PORT = 8000
PORTS_TRIED = 20


class QuietHandler(http.server.SimpleHTTPRequestHandler):
    """Say only what went wrong, and let no browser keep an old page while an author works."""

    def log_request(self, code: int | str = "-", size: int | str = "-") -> None:
        """Report failures alone."""
        if str(code).startswith(("4", "5")):
            super().log_request(code, size)

    def end_headers(self) -> None:
        """Add the header that makes a browser ask again each time."""
        self.send_header("Cache-Control", "no-cache")
        super().end_headers()


def server_for(folder: Path, first_port: int = FIRST_PORT) -> http.server.ThreadingHTTPServer:
    """Open a server for `folder` on the first free port of a short range."""
    handler = functools.partial(QuietHandler, directory=str(folder))
    for port in range(first_port, first_port + PORTS_TRIED):
        try:
            return http.server.ThreadingHTTPServer(("127.0.0.1", port), handler)
        except OSError:
            continue
    last_port = first_port + PORTS_TRIED - 1
    raise OSError(f"ports {first_port} to {last_port} are all taken; name another with --port")


def main() -> int:
    """Serve until interrupted."""
    parser = argparse.ArgumentParser(prog="python -m wetwing_tools.desk.serve", description=__doc__)
    parser.add_argument("folder", nargs="?", type=Path, default=Path("site"))
    parser.add_argument("--port", type=int, default=FIRST_PORT, help="the first port to try")
    wanted = parser.parse_args()
    if not (wanted.folder / "index.html").is_file():
        print(f"serve: {wanted.folder} holds no index.html; `make build` makes the site", file=sys.stderr)
        return 1
    try:
        server = server_for(wanted.folder, wanted.port)
    except OSError as fault:
        print(f"serve: {fault}", file=sys.stderr)
        return 1
    print(f"The site is at http://127.0.0.1:{server.server_port}/ (Ctrl+C ends it)", flush=True)
    try:
        server.serve_forever()
    except KeyboardInterrupt:
        print()
    return 0


if __name__ == "__main__":
    sys.exit(main())
