"""A folder of products, replaced as a whole: what was there stays until the new one is complete."""

from lacunar.folder.kept import carry_over, refuse_taken
from lacunar.folder.products import edited, products
from lacunar.folder.swap import IN_PLACE, check_file, in_place, replaced, replaced_file

__all__ = [
    "IN_PLACE",
    "carry_over",
    "check_file",
    "edited",
    "in_place",
    "products",
    "refuse_taken",
    "replaced",
    "replaced_file",
]
