"""Every tolerance of the project, each derived from two: arithmetic and the mark one can read."""

ARITHMETIC = 1e-6
"""mm. Below it two numbers are the same: 1e6 times the rounding of doubles in a 25 m room."""

OVERLAY_GRID = ARITHMETIC / 10.0
"""mm. Polygon overlays snap to this: outlines that differ in their last digits can lose whole polygons otherwise."""

CONTACT = 0.01
"""mm. Parts closer than this touch, deeper than this overlap: 1e4 times ARITHMETIC, far below any mark."""

POLYGON_AREA = ARITHMETIC * 1000.0
"""mm2. A polygon smaller than this is noise: ARITHMETIC wide and a metre long."""

VOLUME_RELATIVE = 1e-9
"""A solid's volume against the closed form: kernel integration is good to 1e-11, one hundredth of this."""

ANGLE = 1e-9
"""rad. Directions closer than this are parallel: 1e-6 mm over a metre."""
