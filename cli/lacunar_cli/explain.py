"""`lacunar explain`: what a check means, why, what to do, and where its limits come from."""

import re
from difflib import get_close_matches
from typing import Annotated

import typer

from lacunar_cli.show import BAD_INPUT, GOOD
from lacunar_cli.terminal import complain, say, styled, wrapped

NAME_HELP = "A check, as it stands at the end of a finding. Without one all are listed."


def explain(
    check: Annotated[str, typer.Argument(metavar="[CHECK]", help=NAME_HELP, show_default=False)] = "",
) -> int:
    """Say what a check means, why, and what to do; lists all."""
    from lacunar.checks import CHECKS
    from lacunar.checks import explain as explanation

    if not check:
        width = max(len(name) for name in CHECKS)
        for name in CHECKS:
            say(f"{name:<{width}}  {_paragraphs(explanation(name))[0]}")
        return GOOD
    if check not in CHECKS:
        near = get_close_matches(check, CHECKS, n=1, cutoff=0.0)
        complain(f"no check is called {check}; the nearest is {near[0]} (lacunar explain lists all)")
        return BAD_INPUT
    question, *parts = _paragraphs(explanation(check))
    say(head=styled(f"{check}: {question}", bold=True))
    for part in parts:
        name, _, text = part.partition(": ")
        say(wrapped(f"{name + ':':<8} {text}", " " * 9))
    return GOOD


def _paragraphs(text: str) -> list[str]:
    """The question, then What, Why, Fix and Source, each as one line."""
    return [" ".join(part.split()) for part in re.split(r"\n(?=(?:What|Why|Fix|Source): )", text)]
