"""Priced rooms out of square, whose slats taper: the same for every seed."""

import random
from collections.abc import Sequence

from lacunar.config import Config
from lacunar.parts import Part
from strategies import INCH, Wish, config_of, parts_of, skewed_quad, text_of


def taper_room(seed: int) -> tuple[Config, Sequence[Part]]:
    """A config and its parts, some slats of which taper."""
    r = random.Random(seed)
    room = skewed_quad(r, skew=90.0)
    wish = Wish(
        beams=r.randint(0, 3),
        rows=r.randint(0, 2),
        cross=r.random() < 0.7,
        run=r.choice(("with", "across", "AB", "BC")),
        start=r.choice(('["AB", "DA"]', '["CD", "BC"]', '"centre"')),
        gap=r.choice((0.0, 0.125, 0.25)),
        wedge="taper",
        corners=r.choice(("mitre", "butt")),
        walls=r.choice(("trim", "trim", "half beam")),
        board=r.choice((2.5, 3.5, 5.5)),
    )
    narrowest = r.choice((0.5, 0.15, 0.1)) * wish.board * INCH
    text = text_of(room, wish, _shop(r, wish)).replace("[slats]", f"[slats]\nnarrowest_rip = {narrowest}", 1)
    config = config_of(text)
    parts = parts_of(config)
    assert any(part.ripped and part.width_end is not None for part in parts), seed
    return config, parts


def _shop(r: random.Random, wish: Wish) -> str:
    """Every stock in some lengths at prices that do not quite follow them."""
    stocks = {f"1x{round(wish.board + 0.5)}": 0.004, "19.05x19.05": 0.002, **({"4x6": 0.02} if wish.cross else {})}
    rows = [f"[shop]\ncull = {r.choice((0.0, 0.1))}\nkerf = {r.choice((2, 3.2))}\nend_waste = {r.choice((0, 6))}"]
    for stock, rate in stocks.items():
        for feet in (*sorted(r.sample((8, 10, 12, 14, 16), r.randint(1, 3))), 24):
            price = feet * 304.8 * rate * r.uniform(0.9, 1.15)
            rows.append(f'[[shop.board]]\nstock = "{stock}"\nlength = "{feet} ft"\nprice = {price:.2f}')
    return "\n".join(rows)
