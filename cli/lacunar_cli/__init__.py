"""The command line: one file per command, nothing computed here."""
