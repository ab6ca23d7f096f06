"""Model files for CAD, printers and viewers: STEP, STL, GLB."""

from lacunar.exports.colours import Colour, colour_of, linear
from lacunar.exports.glb import write_glb
from lacunar.exports.step import write_step
from lacunar.exports.stl import write_stl_parts, write_stl_whole

__all__ = ["Colour", "colour_of", "linear", "write_glb", "write_step", "write_stl_parts", "write_stl_whole"]
