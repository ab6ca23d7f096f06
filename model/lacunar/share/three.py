"""The viewer library three.js, taken at build time out of trimesh, which brings it along; none of it is kept here."""

import re
import zipfile
from hashlib import sha256
from importlib import resources
from typing import Final

from lacunar.errors import ExportError, Problem

REVISION: Final = "140"
SHA256: Final = "467a4969a34b56d015d0d8f6e5e557746ada6fad11ae51619c2e9a925a28c898"
"""Of the script that is cut out, in UTF-8."""

TEMPLATE: Final = ("resources", "templates", "viewer.zip")
START: Final = "/**\n * @license\n * Copyright 2010-2022 Three.js Authors\n * SPDX-License-Identifier: MIT\n */\n"
END: Final = "THREE.GLTFLoader=GLTFLoader;})();"
"""The header that the licence asks to be kept, and where the library ends: after it comes trimesh's own page."""

FIX: Final = "install trimesh 5.2.0, of which this is known; everything else is built"


def three_script() -> str:
    """The library as one script, its licence's header first; it makes a global `THREE`.

    Raises:
        ExportError: it is not there, or is not the one that the figure was made for.
    """
    page = _page()
    start = page.find(START)
    end = page.find(END, start)
    if start < 0 or end < 0:
        raise _lacking("the viewer library is not in trimesh's template, or has no licence's header")
    script = page[start : end + len(END)]
    found = re.search(r'const e="(\d+)"', script)
    if found is None or found[1] != REVISION:
        what = f"revision {found[1]}" if found else "of no known revision"
        raise _lacking(f"the viewer library in trimesh is {what}, must be {REVISION}")
    if (digest := sha256(script.encode()).hexdigest()) != SHA256:
        raise _lacking(f"the viewer library in trimesh has the sha256 {digest}, must have {SHA256}")
    return script


def _page() -> str:
    """The page that trimesh shows a mesh on."""
    try:
        with resources.files("trimesh").joinpath(*TEMPLATE).open("rb") as file, zipfile.ZipFile(file) as archive:
            return archive.read(archive.namelist()[0]).decode("utf-8")
    except (ImportError, OSError, zipfile.BadZipFile, IndexError, UnicodeDecodeError) as error:
        raise _lacking(f"trimesh's viewer template cannot be read ({error})") from None


def _lacking(what: str) -> ExportError:
    return ExportError([Problem(where="3D figure", what=what, fix=FIX)])
