"""A page in Chromium without a window: asked and told over a pipe by the browser's own protocol, no network there.

The flags are those with which Chromium draws WebGL without a graphics card. Source of the commands: the Chrome DevTools
Protocol, chromedevtools.github.io/devtools-protocol.
"""

import base64
import contextlib
import itertools
import json
import os
import select
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Generator, Mapping
from pathlib import Path
from typing import Any, Final

CHROMIUM: Final = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)

LACKING: Final = (
    "no chromium is on the path (Debian: apt-get install chromium)"
    if CHROMIUM is None
    else "Chromium is asked over a pipe of POSIX"
    if sys.platform == "win32"
    else ""
)
"""Why there is no browser here; "" where there is one."""

FLAGS: Final = (
    *("--headless", "--no-sandbox", "--disable-gpu", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"),
    *("--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"),
    *("--remote-debugging-pipe", "--hide-scrollbars", "--mute-audio", "--disable-dev-shm-usage"),
    *("--host-resolver-rules=MAP * ~NOTFOUND", "--proxy-server=127.0.0.1:9", "--proxy-bypass-list=<-loopback>"),
)
"""The last row cuts the network off: no name is found, and nothing listens where all of it is sent."""

STALL: Final = "GPU stall due to ReadPixels"

PATIENCE: Final = 60.0
"""Seconds for one answer, on a machine that is busy."""

KEYS: Final[Mapping[str, tuple[int, str]]] = {
    **{name: (code, "") for name, code in (("Tab", 9), ("Escape", 27), ("End", 35), ("Home", 36))},
    **{f"Arrow{way}": (code, "") for way, code in (("Left", 37), ("Up", 38), ("Right", 39), ("Down", 40))},
    "Enter": (13, "\r"),
    " ": (32, " "),
}
"""Code and text of keys that are pressed by name."""


class Page:
    """One page that is open."""

    def __init__(self, browser: "_Browser", session: str) -> None:
        self._browser, self._session = browser, session

    def send(self, method: str, **parameters: Any) -> dict[str, Any]:
        """One command of the protocol, and its answer."""
        return self._browser.send(method, parameters, self._session)

    def script(self, text: str) -> Any:
        """The value of an expression, waited for where it is promised.

        Raises:
            RuntimeError: it throws.
        """
        said = self.send("Runtime.evaluate", expression=text, returnByValue=True, awaitPromise=True)
        if thrown := said.get("exceptionDetails"):
            raise RuntimeError(thrown.get("exception", {}).get("description") or thrown["text"])
        return said["result"].get("value")

    def click(self, x: float, y: float) -> None:
        """The mouse, at a place of the window."""
        self.drag([(x, y)])

    def drag(self, places: list[tuple[float, float]]) -> None:
        """The mouse pressed at the first place, let go at the last."""
        mouse = {"button": "left", "clickCount": 1}
        for kind, (x, y), held in (
            ("mouseMoved", places[0], 0),
            ("mousePressed", places[0], 1),
            *(("mouseMoved", place, 1) for place in places[1:]),
            ("mouseReleased", places[-1], 0),
        ):
            self.send("Input.dispatchMouseEvent", type=kind, x=x, y=y, buttons=held, **mouse)

    def tap(self, x: float, y: float) -> None:
        """A finger, at a place of the window."""
        self.send("Input.dispatchTouchEvent", type="touchStart", touchPoints=[{"x": x, "y": y}])
        self.send("Input.dispatchTouchEvent", type="touchEnd", touchPoints=[])

    def key(self, name: str, *, shift: bool = False) -> None:
        """A key by the name that it has in the browser: Tab, Enter, ArrowLeft, a."""
        code, text = KEYS.get(name, (ord(name[0].upper()), name))
        known = {"key": name, "windowsVirtualKeyCode": code, "modifiers": 8 * shift}
        self.send("Input.dispatchKeyEvent", type="keyDown", **known, **({"text": text} if text else {}))
        self.send("Input.dispatchKeyEvent", type="keyUp", **known)

    def screenshot(self, path: Path, *, whole: bool = False) -> None:
        """What the window shows, or all of the page, as PNG."""
        self._keep(path, self.send("Page.captureScreenshot", captureBeyondViewport=whole))

    def printed(self, path: Path, *, letter: bool = False) -> None:
        """The page as it is printed, as PDF on A4, or letter."""
        width, height = (8.5, 11.0) if letter else (8.27, 11.69)
        self._keep(
            path,
            self.send(
                "Page.printToPDF", printBackground=True, preferCSSPageSize=True, paperWidth=width, paperHeight=height
            ),
        )

    @staticmethod
    def _keep(path: Path, said: Mapping[str, Any]) -> None:
        path.write_bytes(base64.b64decode(said["data"]))

    def console(self) -> list[str]:
        """Everything that was thrown, warned of or found wrong so far, what a policy forbids among it.

        Left out: what a driver says of how the browser itself shows WebGL where there is no graphics card.
        """
        self.script("0")
        found: list[str] = []
        for event in self._browser.events:
            told: Any = event["params"]
            match event["method"]:
                case "Runtime.exceptionThrown":
                    thrown = told["exceptionDetails"]
                    found.append(thrown.get("exception", {}).get("description") or thrown["text"])
                case "Runtime.consoleAPICalled" if told["type"] in ("error", "warning", "assert"):
                    words = (str(one.get("value", one.get("description"))) for one in told["args"])
                    found.append(f"{told['type']}: {' '.join(words)}")
                case "Log.entryAdded" if told["entry"]["level"] in ("error", "warning"):
                    found.append(f"{told['entry']['level']}: {told['entry']['text']}")
                case _:
                    pass
        return [line for line in found if STALL not in line]

    def requests(self) -> list[str]:
        """What was asked for so far beside the file itself, what it holds within it left out."""
        asked = [
            e["params"]["request"]["url"] for e in self._browser.events if e["method"].endswith("requestWillBeSent")
        ]
        return [url for url in asked[1:] if not url.startswith(("data:", "blob:"))]


@contextlib.contextmanager
def page_in_browser(
    path: Path, width: int, height: int, *, dark: bool = False, scripts: bool = True, touch: bool = False
) -> Generator[Page]:
    """A file in a new browser with an empty profile; it is closed at the end of the block.

    Args:
        path: of an HTML file.
        width: of the window, in pixels of CSS.
        height: likewise.
        dark: the person likes it dark.
        scripts: scripts run.
        touch: there is a finger instead of a mouse.
    """
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as profile, _started(profile) as browser:
        target = browser.send("Target.createTarget", {"url": "about:blank"})["targetId"]
        session = browser.send("Target.attachToTarget", {"targetId": target, "flatten": True})["sessionId"]
        page = Page(browser, session)
        for domain in ("Page", "Runtime", "Log", "Network"):
            page.send(f"{domain}.enable")
        page.send("Emulation.setDeviceMetricsOverride", width=width, height=height, deviceScaleFactor=1, mobile=touch)
        page.send("Emulation.setTouchEmulationEnabled", enabled=touch)
        scheme = {"name": "prefers-color-scheme", "value": "dark" if dark else "light"}
        page.send("Emulation.setEmulatedMedia", features=[scheme])
        page.send("Emulation.setScriptExecutionDisabled", value=not scripts)
        page.send("Page.navigate", url=path.resolve().as_uri())
        browser.wait_for("Page.loadEventFired")
        yield page


class _Browser:
    """Messages to and from a browser, each ending with a zero."""

    def __init__(self, to: int, back: int) -> None:
        self._to, self._back, self._rest = to, back, b""
        self._numbers = itertools.count(1)
        self._answers: dict[int, dict[str, Any]] = {}
        self.events: list[dict[str, Any]] = []

    def send(self, method: str, parameters: Mapping[str, Any], session: str | None = None) -> dict[str, Any]:
        number = next(self._numbers)
        message = {"id": number, "method": method, "params": parameters, **({"sessionId": session} if session else {})}
        data = json.dumps(message).encode() + b"\0"
        while data:
            data = data[os.write(self._to, data) :]
        self._read(method, lambda: number in self._answers)
        answer = self._answers.pop(number)
        if "error" in answer:
            raise RuntimeError(f"{method}: {answer['error']['message']}")
        return answer["result"]

    def wait_for(self, method: str) -> None:
        self._read(method, lambda: any(event["method"] == method for event in self.events))

    def _read(self, what: str, is_there: Any) -> None:
        until = time.monotonic() + PATIENCE
        while not is_there():
            ready, _, _ = select.select([self._back], [], [], max(0.0, until - time.monotonic()))
            data = os.read(self._back, 1 << 20) if ready else b""
            if not data:
                raise TimeoutError(f"{what}: the browser says nothing, or has ended")
            *whole, self._rest = (self._rest + data).split(b"\0")
            for message in map(json.loads, whole):
                if "id" in message:
                    self._answers[message["id"]] = message
                else:
                    self.events.append(message)


@contextlib.contextmanager
def _started(profile: str) -> Generator[_Browser]:
    assert CHROMIUM is not None, LACKING
    (hear, to), (back, tell) = os.pipe(), os.pipe()
    # The browser hears on its file 3 and tells on its file 4.
    wrap = f'exec 3<&{hear} 4>&{tell}; exec "$@"'
    command = ["/bin/bash", "-c", wrap, "browser", CHROMIUM, *FLAGS, f"--user-data-dir={profile}"]
    process = subprocess.Popen(
        command,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        pass_fds=(hear, tell),
        start_new_session=True,
    )
    os.close(hear)
    os.close(tell)
    try:
        browser = _Browser(to, back)
        yield browser
        with contextlib.suppress(OSError, RuntimeError, TimeoutError):
            browser.send("Browser.close", {})
            process.wait(10.0)
    finally:
        process.kill()
        process.wait()
        os.close(to)
        os.close(back)
