"""How long the page's figure takes in a browser without a graphics card: python tests/bench/share_figure.py.

For each room: the page's size, ms from opening it to the first paint and to the figure standing complete, and ms a
frame while it is turned, standing in the room and from outside. Limits: first paint 1,000 ms, figure 3,000 ms.
"""

import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from share.browser import LACKING, Page, page_in_browser
from share.figure_page import shown, write_page

ROOMS = ("4-inch", "5-metric", "8-l-shaped", "7-hall")
SIZES = ((1280, 800), (390, 844))

FRAMES = """(async () => {
  const canvas = document.querySelector('#figure canvas'), times = [];
  const frame = () => new Promise(requestAnimationFrame);
  for (let i = 0; i < 31; i++) {
    canvas.dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowLeft' }));
    times.push(await frame());
  }
  const steps = times.slice(1).map((time, i) => time - times[i]).sort((a, b) => a - b);
  return [steps[15], steps[28]].map(Math.round);
})()"""
"""Median and second longest."""

READY = "document.querySelector('#figure canvas').dataset.ready && Math.round(performance.now())"
PAINT = "Math.round(performance.getEntriesByName('first-contentful-paint')[0].startTime)"


def told(page: Page) -> str:
    """One page's figures."""
    while not (ready := page.script(READY)):
        time.sleep(0.02)
    words = [f"first paint {page.script(PAINT)} ms", f"figure {ready} ms"]
    for place in ("door", "outside"):
        page.script(f"document.querySelector('[data-place={place}]').click()")
        time.sleep(0.5)
        median, worst = page.script(FRAMES)
        words.append(f"a frame from {place} {median} ms, at worst {worst} ms")
    return "; ".join(words)


def main() -> None:
    """All rooms, or those that are named."""
    if LACKING:
        sys.exit(LACKING)
    with tempfile.TemporaryDirectory() as folder:
        for room in sys.argv[1:] or ROOMS:
            path = write_page((shown(room),), Path(folder) / "page.html")
            print(f"{room}: {path.stat().st_size / 1e6:.2f} MB, {len(shown(room).report.parts)} pieces")  # noqa: T201
            for width, height in SIZES:
                with page_in_browser(path, width, height) as page:
                    print(f"  {width} x {height}: {told(page)}")  # noqa: T201


if __name__ == "__main__":
    main()
