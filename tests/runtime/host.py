"""A web server for the tests that can be as wrong as real hosts are."""

import mimetypes
import threading
from collections.abc import Callable
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path


@dataclass
class Reply:
    """What the server sends for one address."""

    body: bytes
    status: int = 200
    content_type: str = "text/javascript"


@dataclass
class Host:
    """Serves a folder on the loopback; the fields say what is wrong with it."""

    root: Path
    headers: dict[str, str] = field(default_factory=dict)
    types: dict[str, str] = field(default_factory=dict)  # by suffix, over what is usual
    refused: frozenset[str] = frozenset()  # suffixes answered with 403
    # By file name; a change that returns None means that no answer comes.
    instead: dict[str, Callable[[Reply], Reply | None]] = field(default_factory=dict)
    asked: list[str] = field(default_factory=list)

    def reply(self, path: str) -> Reply | None:
        """Return the reply for a path, or None for a connection that stays open without an answer."""
        self.asked.append(path)
        file = self.root / path.lstrip("/")
        if file.suffix in self.refused:
            return Reply(b"refused", 403, "text/plain")
        if not file.is_file():
            return Reply(b"<!doctype html><title>Not found</title>", 404, "text/html")
        usual = mimetypes.guess_type(file.name)[0] or "application/octet-stream"
        reply = Reply(file.read_bytes(), 200, self.types.get(file.suffix, usual))
        change = self.instead.get(file.name)
        return change(reply) if change else reply

    def __enter__(self) -> "Host":
        host = self
        self._released = threading.Event()

        class Handler(BaseHTTPRequestHandler):
            protocol_version = "HTTP/1.1"

            def do_GET(self) -> None:
                reply = host.reply(self.path.partition("?")[0])
                if reply is None:
                    host._released.wait()
                    self.close_connection = True
                    return
                self.send_response(reply.status)
                self.send_header("Content-Type", reply.content_type)
                self.send_header("Content-Length", str(len(reply.body)))
                for name, value in host.headers.items():
                    self.send_header(name, value)
                self.end_headers()
                self.wfile.write(reply.body)

            def log_message(self, format: str, *args: object) -> None:
                pass

        self._server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
        self._server.daemon_threads = True
        threading.Thread(target=self._server.serve_forever, daemon=True).start()
        return self

    def __exit__(self, *exc: object) -> None:
        self._released.set()
        self._server.shutdown()
        self._server.server_close()

    def address(self, path: str = "index.html", name: str = "127.0.0.1") -> str:
        """Return the address of a path on this server, under a host name."""
        return f"http://{name}:{self._server.server_address[1]}/{path}"
