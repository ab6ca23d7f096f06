"""Wood coffered ceilings from tape measurements: layout, checks, cut lists, previews."""

__version__ = "0.1.0"
