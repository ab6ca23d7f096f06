"""Pictures of wood kept on disk between runs: slow to make, always the same, and no loss when they are gone."""

import contextlib
import hashlib
import os
import sys
import zlib
from collections.abc import Callable
from pathlib import Path
from typing import Final

import numpy as np
import numpy.typing as npt

from lacunar.files import read_plain, write_whole

Bytes = npt.NDArray[np.uint8]

LARGEST: Final = 300_000_000
"""Bytes of all that is kept; a wood has 10 to 17 million. Own judgement."""


def cache_folder() -> Path:
    """Where this user's programs keep what they can make anew.

    Source: XDG Base Directory Specification 0.8; Windows and macOS as their own programs do.
    """
    named = os.environ.get("XDG_CACHE_HOME", "")
    if Path(named).is_absolute():
        return Path(named) / "lacunar"
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA") or Path.home() / "AppData" / "Local") / "lacunar" / "cache"
    return Path.home() / ("Library/Caches" if sys.platform == "darwin" else ".cache") / "lacunar"


def kept(made_of: object, shape: tuple[int, int], make: Callable[[], Bytes]) -> Bytes:
    """What `make` makes, from disk if it was made before. Nothing fails where nothing can be read or written.

    Args:
        made_of: all that it depends on, told by its `repr`.
        shape: of it.
        make: called where it is not there whole.
    """
    name = hashlib.sha256(repr((made_of, shape, np.__version__)).encode()).hexdigest()[:32]
    # Without a home there is no folder to find (RuntimeError).
    with contextlib.suppress(OSError, RuntimeError):
        file = cache_folder() / f"{name}.grain"
        data = read_plain(file, LARGEST)
        body, mark = memoryview(data)[:-4], data[-4:]
        if len(body) == shape[0] * shape[1] and zlib.crc32(body).to_bytes(4, "little") == mark:
            os.utime(file)
            return np.frombuffer(body, dtype=np.uint8).reshape(shape)
    made = make()
    with contextlib.suppress(OSError, RuntimeError):
        data = made.tobytes()
        cache_folder().mkdir(parents=True, exist_ok=True)
        write_whole(cache_folder() / f"{name}.grain", data + zlib.crc32(data).to_bytes(4, "little"))
        _tidy(cache_folder())
    return made


def _tidy(folder: Path) -> None:
    """Remove what was not used for longest, until the rest is not too large."""
    files = sorted(((f.stat().st_mtime, f.stat().st_size, f) for f in folder.glob("*.grain")), reverse=True)
    total = 0
    for _, size, file in files:
        total += size
        if total > LARGEST:
            file.unlink(missing_ok=True)
