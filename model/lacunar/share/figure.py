"""The 3D figure of the page: what it is made of, and the list of pieces beside it."""

import json
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from fractions import Fraction
from importlib import resources
from typing import Any, Final

from lacunar.errors import ExportError
from lacunar.pictures import SHADING
from lacunar.reports import Report
from lacunar.scene import Scene, set_alike
from lacunar.share.groups import GROUPS
from lacunar.share.markup import Html, element, joined, named
from lacunar.share.meshes import BRIGHTEST, meshes_of
from lacunar.share.part_list import PRICE_NOTE, part_list
from lacunar.share.three import three_script
from lacunar.share.woods import surfaces
from lacunar.tape import Tape
from lacunar.units import INCH

SCRIPTS: Final = ("decode", "words", "paint", "model", "pick", "eye", "list", "figure")
"""Of `viewer`, in the order in which they are joined."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """One design that the figure shows.

    Attributes:
        name: what it is called.
        scene: lit.
        report: of it.
    """

    name: str
    scene: Scene
    report: Report


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """What a page has to hold; nothing in it asks for anything from elsewhere.

    Attributes:
        markup: of the section, data among it.
        styles: one sheet, each rule below `.figure`.
        scripts: in order; the policy of the page must allow them.
        notes: sentences for the build: why there is only a list.
    """

    markup: str
    styles: str
    scripts: tuple[str, ...]
    notes: tuple[str, ...] = ()


def figure_parts(shown: Sequence[Shown]) -> Figure:
    """The figure of a job's designs, the file's own first; only their list where the viewer library is not there."""
    styles = _file("figure.css")
    try:
        library = three_script()
    except ExportError as error:
        problem = error.problems[0]
        why = f"There is no 3D figure: {problem.what}."
        markup = element("div", element("p", why), _list(shown), class_="figure bare", id="figure")
        return Figure(markup=markup, styles=styles, scripts=(), notes=(str(problem),))
    script = "\n".join(_file(f"{name}.js") for name in SCRIPTS)
    return Figure(
        markup=_markup(shown),
        styles=styles,
        scripts=(library, f'(() => {{\n"use strict";\n{script}\n}})();'),
    )


def _file(name: str) -> str:
    return resources.files("lacunar.share").joinpath("viewer", name).read_text("utf-8")


def _markup(shown: Sequence[Shown]) -> str:
    page = _file("figure.html")
    choices = joined(_radio(number, one.name) for number, one in enumerate(shown)) if len(shown) > 1 else ""
    for word, text in {"CHOICES": choices, "LIST": _list(shown), "DATA": _json(_data(shown))}.items():
        page = page.replace(f"<!--{word}-->", text)
    return page


def _radio(number: int, name: str) -> Html:
    mark = element("input", type="radio", name="figure-choice", value=number, checked=number == 0)
    return element("label", mark, " ", named(name))


def _list(shown: Sequence[Shown]) -> Html:
    """The first design's list; the others', which a script puts in its place."""
    first, *others = (part_list(one.report, one.scene.tape) for one in shown)
    rows = element("div", first, class_="figure-rows", role="region", tabindex=0, aria_label="list of pieces")
    note = element("p", PRICE_NOTE, class_="figure-small")
    return element("div", note, rows, *(element("template", other) for other in others), class_="figure-list")


def _json(values: Any) -> str:
    """For a block of data in a page: nothing in it ends the block."""
    return json.dumps(values, separators=(",", ":"), allow_nan=False).replace("<", "\\u003c")


def _data(shown: Sequence[Shown]) -> dict[str, Any]:
    first = shown[0].scene
    pictures: dict[str, int] = {}
    choices = [_choice(one.name, set_alike(one.scene, first), pictures) for one in shown]
    return {
        "groups": [asdict(group) for group in GROUPS],
        "brightest": BRIGHTEST,
        "shading": SHADING,
        "tape": tape_told(first.tape),
        "places": {name: first.cameras[name].eye for name in ("door", "seat")},
        "choices": choices,
        "pictures": list(pictures),
    }


def _choice(name: str, scene: Scene, pictures: dict[str, int]) -> dict[str, Any]:
    return {"name": name, "materials": surfaces(scene, pictures), **meshes_of(scene)}


def tape_told(tape: Tape) -> dict[str, Any]:
    """What a script needs to tell lengths as the tape does: `viewer/words.js`."""
    mark = Fraction(tape.told / INCH if tape.units == "in" else tape.told).limit_denominator(10_000)
    return {"units": tape.units, "mark": tape.told, "top": mark.numerator, "bottom": mark.denominator}
