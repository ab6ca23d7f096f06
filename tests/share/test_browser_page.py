"""The page in a browser: nothing is asked for, nothing is wrong, and hand, finger and keys reach everything."""

import os
import re
from pathlib import Path
from typing import Any

import pytest

from field.pdf_look import page_texts
from share.browser import LACKING, Page, page_in_browser
from share.conftest import HOSTILE

pytestmark = pytest.mark.skipif(bool(LACKING), reason=LACKING)

AXE = os.environ.get("LACUNAR_AXE", "")

INJECTED = (
    "(s => { s.textContent = 'window.bad = 1'; document.body.append(s); return window.bad ?? 0 })"
    "(document.createElement('script'))"
)


def middle(page: Page, selector: str) -> tuple[float, float]:
    """Of an element, in the window."""
    box = page.script(
        f"(e => {{ e.scrollIntoView({{ block: 'center', behavior: 'instant' }}); const r = e.getBoundingClientRect();"
        f" return [r.x, r.y, r.width, r.height] }})(document.querySelector({selector!r}))"
    )
    return box[0] + box[2] / 2, box[1] + box[3] / 2


def at(page: Page) -> str:
    """Where the first slider is seen to stand."""
    return page.script("getComputedStyle(document.querySelector('.pair')).getPropertyValue('--at').trim()")


def faults(page: Page) -> list[Any]:
    """What shuts somebody out, and is serious."""
    if not AXE:
        pytest.skip("LACUNAR_AXE names no axe.min.js (npm install axe-core)")
    page.script(f"{Path(AXE).read_text(encoding='utf-8')};0")
    told = "[v.id, v.impact, v.nodes.map(n => n.html.slice(0, 200))]"
    return page.script(
        f"axe.run().then(r => r.violations.filter(v => /serious|critical/.test(v.impact)).map(v => {told}))"
    )


def test_on_a_desk(page: Path) -> None:
    with page_in_browser(page, 1280, 900) as shown:
        assert shown.requests() == []
        assert shown.script("document.querySelector('h1').textContent") == HOSTILE
        assert at(shown) == "50%"
        x, y = middle(shown, ".pair")
        width = shown.script("document.querySelector('.pair').clientWidth")
        shown.drag([(x, y), (x - width / 4, y)])
        assert abs(float(at(shown).removesuffix("%")) - 25.0) <= 2.0
        shown.click(*middle(shown, "article:nth-child(2) .mark"))
        reply = shown.script("document.querySelector('#reply').value")
        assert re.search(r": we chose across, 3/16 in, yellow poplar \(plan [A-Z2-7]{6}\)$", reply)
        shown.click(*middle(shown, "#copy"))
        assert shown.script("document.querySelector('#copied').textContent") != ""
        assert shown.console() == []
        assert shown.script(INJECTED) == 0
        assert any("Content Security Policy" in line for line in shown.console())


def test_without_the_policy_an_injected_script_would_run(page: Path, tmp_path: Path) -> None:
    bare = tmp_path / "bare.html"
    text = page.read_text(encoding="utf-8")
    bare.write_text(re.sub(r'<meta http-equiv="Content-Security-Policy"[^>]*>', "", text), encoding="utf-8")
    with page_in_browser(bare, 1280, 900) as shown:
        assert shown.script(INJECTED) == 1


@pytest.mark.parametrize("dark", [False, True])
def test_on_a_phone(page: Path, dark: bool) -> None:
    with page_in_browser(page, 360, 780, dark=dark, touch=True) as shown:
        assert shown.script("document.documentElement.scrollWidth") == 360
        x, y = middle(shown, ".pair")
        shown.tap(x + 0.25 * shown.script("document.querySelector('.pair').clientWidth"), y)
        assert abs(float(at(shown).removesuffix("%")) - 75.0) <= 2.0
        paper = shown.script("getComputedStyle(document.body).backgroundColor")
        assert (sum(map(int, re.findall(r"\d+", paper))) < 300) == dark
        assert (shown.requests(), shown.console()) == ([], [])
        assert faults(shown) == []


def test_by_keys_alone(page: Path) -> None:
    focus = "(e => e.id || e.type || e.tagName)(document.activeElement)"
    with page_in_browser(page, 1280, 900) as shown:
        shown.key("Tab")
        shown.key("ArrowRight")
        assert at(shown) == "51%"
        reached = [shown.script(focus)]
        for _ in range(4):
            shown.key("Tab")
            reached.append(shown.script(focus))
            if reached[-1] == "radio":
                shown.key("ArrowDown")
        assert reached == ["range", "range", "radio", "reply", "copy"]
        assert "across" in shown.script("document.querySelector('#reply').value")


def test_without_scripts_both_pictures_are_seen(page: Path) -> None:
    with page_in_browser(page, 1280, 900, scripts=False) as shown:
        boxes = shown.script(
            "[...document.querySelectorAll('.pair img')].map(e => [e.getBoundingClientRect().x, e.clientWidth])"
        )
        assert len({tuple(box) for box in boxes}) == 4, "each has a place of its own"
        assert shown.script("getComputedStyle(document.querySelector('.slide')).display") == "none"
        assert shown.script("getComputedStyle(document.querySelector('.say')).display") != "none"


def test_on_paper_it_is_pictures_and_text(page: Path, tmp_path: Path) -> None:
    with page_in_browser(page, 1280, 900) as shown:
        shown.printed(tmp_path / "page.pdf")
    texts = page_texts(tmp_path / "page.pdf")
    text = "".join(texts)
    assert 1 <= len(texts) <= 4
    assert "forty rows" in text
    assert "To choose it, write" in text
    assert "Copy" not in text
