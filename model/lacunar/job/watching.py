"""A job in this machine's own browser, where no window can be opened: pages are read from here and nothing is taken."""

import time
from collections.abc import Callable
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from threading import Thread
from typing import Final

from lacunar.job.figure import figure_of
from lacunar.job.run import Job

LOOPBACK: Final = "127.0.0.1"
EVERY: Final = 0.5
"""Seconds between two looks at whether there is something new."""


class Pages(ThreadingHTTPServer):
    """What is shown now, by its address; it answers this machine alone."""

    daemon_threads = True

    def __init__(self) -> None:
        """Take a free port of the loopback."""
        super().__init__((LOOPBACK, 0), _Answers)
        self.pages: dict[str, tuple[str, bytes]] = {}

    @property
    def host(self) -> str:
        """As a browser names it."""
        return f"{LOOPBACK}:{self.server_port}"

    def show(self, number: int, page: str) -> None:
        """Put a page in the place of the last one."""
        self.pages = {"/": ("text/html", page.encode()), "/number": ("text/plain", str(number).encode())}


class _Answers(BaseHTTPRequestHandler):
    """Only what is asked for by its own address, by a browser that was led here by nobody else's name."""

    server: Pages  # pyright: ignore[reportIncompatibleVariableOverride]
    server_version, sys_version = "lacunar", ""

    def do_GET(self) -> None:
        found = self.server.pages.get(self.path) if self.headers.get("Host") == self.server.host else None
        kind, data = found or ("text/plain", b"nothing here\n")
        self.send_response(200 if found else 404)
        self.send_header("Content-Type", f"{kind}; charset=utf-8")
        self.send_header("Content-Length", str(len(data)))
        self.send_header("Cache-Control", "no-store")
        self.send_header("X-Content-Type-Options", "nosniff")
        self.end_headers()
        self.wfile.write(data)

    def log_message(self, format: str, *_: object) -> None:
        """Nobody wants to read what a browser asks for every second."""


def watch_in_browser(job: Job, poll: Callable[[], Job | str | None], on_address: Callable[[str], None]) -> None:
    """Serve a job's figure to this machine's browser until the process is told to end.

    Args:
        job: what to show.
        poll: asked twice a second; another job takes the first one's place, and words say why there is none.
        on_address: told where it is to be seen, once it is.
    """
    from lacunar.share import watched_page

    title, figure, number = job.config.title or job.config.name, figure_of(job), 0
    with Pages() as pages:
        pages.show(number, watched_page(title, figure, number))
        Thread(target=pages.serve_forever, daemon=True).start()
        on_address(f"http://{pages.host}/")
        while True:
            time.sleep(EVERY)
            changed = poll()
            if changed is None:
                continue
            number += 1
            if isinstance(changed, Job):
                title, figure = changed.config.title or changed.config.name, figure_of(changed)
            wrong = changed if isinstance(changed, str) else ""
            pages.show(number, watched_page(title, figure, number, wrong))
