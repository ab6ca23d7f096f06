"""Run as a script in a process of its own: does one piece of work, and ends with the process that started it.

Standard input holds two pickles, each after its length: where modules are looked for and which are loaded at once, and
what is to be done; it stays open as long as anybody waits. Standard output gets a line of JSON for each step, and a
last one with what came of it.
"""

import contextlib
import json
import os
import pickle
import sys
import threading
import traceback
from collections.abc import Callable
from importlib import import_module
from typing import Any


def main() -> None:
    """Read what is to be done, do it, tell."""
    # What libraries print must not get between the lines.
    with os.fdopen(os.dup(1), "w", encoding="utf-8") as out:
        os.dup2(2, 1)
        sys.path[:], modules = pickle.loads(_read())
        for name in modules:
            with contextlib.suppress(ImportError):
                import_module(name)
        given = _read()
        threading.Thread(target=_end_with_the_other, daemon=True).start()

        def tell(**said: Any) -> None:
            out.write(json.dumps(said) + "\n")
            out.flush()

        tell(**_done(given, lambda text, share: tell(step=[text, share])))
        # A library that falls over its own feet on the way out has done its work.
        os._exit(0)


def _read() -> bytes:
    """The next pickle; where nobody waits any more, the end."""
    size = int.from_bytes(sys.stdin.buffer.read(8), "little")
    return sys.stdin.buffer.read(size) if size else os._exit(1)


def _end_with_the_other() -> None:
    sys.stdin.buffer.read()
    os._exit(1)


def _done(given: bytes, step: Callable[[str, float], None]) -> dict[str, Any]:
    """The last line."""
    from lacunar.errors import LacunarError

    try:
        return {"notes": pickle.loads(given)(step) or []}
    except LacunarError as error:
        return {"problems": [[one.where, one.what, one.fix] for one in error.problems]}
    except OSError as error:
        return {"system": [error.errno, error.strerror or str(error), error.filename and str(error.filename)]}
    except Exception as error:
        with contextlib.suppress(OSError):
            traceback.print_exc()
        return {"fault": f"{type(error).__name__}: {error}"}


if __name__ == "__main__":
    main()
