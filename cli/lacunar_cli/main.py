"""Where the command `lacunar` begins and ends."""

from lacunar_cli.stopping import deaf, leave_at_once


def main() -> None:
    """Run the command line and leave with its status."""
    leave_at_once()
    from lacunar_cli.app import app
    from lacunar_cli.terminal import forgive

    forgive()
    try:
        app()
    finally:
        deaf()
