"""The browser that pages are tested in hears what it must hear."""

from pathlib import Path

import pytest

from share.browser import LACKING, page_in_browser

PAGE = """<!doctype html>
<meta name="viewport" content="width=device-width">
<button>press</button><input type="range" value="50"><img src="http://place.invalid/a.png" alt="">
<script>document.querySelector("button").addEventListener("click", () => console.error("pressed"))</script>
"""


@pytest.mark.skipif(bool(LACKING), reason=LACKING)
def test_it_tells_errors_requests_and_what_a_finger_and_keys_do(tmp_path: Path) -> None:
    file = tmp_path / "page.html"
    file.write_text(PAGE, encoding="utf-8")
    with page_in_browser(file, 390, 844, dark=True, touch=True) as page:
        assert page.script("innerWidth") == 390
        assert page.script("matchMedia('(prefers-color-scheme: dark)').matches") is True
        assert page.requests() == ["http://place.invalid/a.png"]
        page.tap(
            *page.script("(box => [box.x + 5, box.y + 5])(document.querySelector('button').getBoundingClientRect())")
        )
        for key in ("Tab", "ArrowRight"):
            page.key(key)
        assert page.script("document.querySelector('input').value") == "51"
        assert "error: pressed" in page.console()
        page.screenshot(tmp_path / "page.png")
        page.printed(tmp_path / "page.pdf")
        with pytest.raises(RuntimeError, match="is not defined"):
            page.script("nothing")
    assert (tmp_path / "page.png").read_bytes().startswith(b"\x89PNG")
    assert (tmp_path / "page.pdf").read_bytes().startswith(b"%PDF")
