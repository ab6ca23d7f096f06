"""The few lines that the graphics library runs for every pixel of a photo-like view.

Light comes with the vertices, baked. Added here is what a vertex cannot hold: the sun's sharp patch, the windows'
reflection in varnish, the view out of the window, and the film's curve.
"""

from pathlib import Path

import numpy as np

from lacunar.pictures.gloss import lobe_code
from lacunar.scene import Appearance, Lights, Scene, WindowLight, clear_share, vector, window_groups

VERTEX_DEC = """//VTK::ValuePass::Dec
in vec3 light; in vec3 place; in vec3 facing; in vec4 sees; in float sunny;
out vec3 lightVS; out vec3 placeVS; out vec3 facingVS; out vec4 seesVS; out float sunnyVS;
"""

VERTEX_IMPL = """//VTK::ValuePass::Impl
lightVS = light; placeVS = place; facingVS = facing; seesVS = sees; sunnyVS = sunny;
"""

SURFACE = Path(__file__).with_name("surface.glsl").read_text("utf-8")
"""What every fragment needs."""

PHOTO = Path(__file__).with_name("photo.glsl").read_text("utf-8")
"""What photo-like views need besides: film, windows, the view out of them."""

SHADING = SURFACE.split("\n", 2)[2] + PHOTO
"""Both as functions alone, for whoever draws with another library: colours, boards, film, the view out of a window."""

GLOSS = Path(__file__).with_name("gloss.glsl").read_text("utf-8")
"""What varnish needs: a window's share of a lobe."""


def _vec(values: tuple[float, ...]) -> str:
    return f"vec{len(values)}({', '.join(f'{v:.6f}' for v in values)})"


def _call(window: WindowLight, p: str, d: str, soft: str) -> str:
    return (
        f"through({p}, {d}, {_vec(window.centre)}, {_vec(window.right)}, {_vec(window.inward)}, "
        f"{_vec(window.half)}, {window.depth:.4f}, {soft})"
    )


def _bars(window: WindowLight) -> str:
    """The shadow of the glazing bars in the sun, as a factor of `b` at (x, y) on the glass."""
    each = "(1.0 - bar(x - ({:.4f}), {:.4f}, blur) * bar(y - ({:.4f}), {:.4f}, blur))"
    return " * ".join(each.format(bx, bw, by, bh) for bx, by, bw, bh in window.bars) or "1.0"


def _sun(lights: Lights) -> str:
    towards = lights.sun.towards
    body = ""
    for window in lights.windows:
        facing = -sum(a * b for a, b in zip(towards, window.inward, strict=True))
        if facing <= 0.02:
            continue
        body += f"""
  {{ float ahead = dot(p - {_vec(window.centre)}, {_vec(window.inward)}) / {facing:.6f};
    vec3 at = p + ahead * s - {_vec(window.centre)};
    float x = dot(at, {_vec(window.right)}), y = at.z, blur = max(0.006 * ahead, 0.003);
    sun += {_call(window, "p", "s", "0.006")} * {_bars(window)}; }}"""
    return f"float sunlight(vec3 p) {{ vec3 s = {_vec(towards)}; float sun = 0.0;{body}\n  return sun; }}\n"


def _reflection(lights: Lights) -> str:
    """What the windows send into a lobe; `seen`: the share of each group of windows that nothing hides."""
    body = ""
    groups = window_groups(len(lights.windows))
    for window, group in zip(lights.windows, groups, strict=True):
        mean = np.mean([window.sky, window.ground], axis=0) * clear_share(window)
        middle, right, up = np.array(window.centre), np.array(window.right) * window.half[0], (0, 0, window.half[1])
        corners = (middle + x * right + y * np.array(up) for x, y in ((-1, -1), (-1, 1), (1, 1), (1, -1)))
        seen = f"seen.{'xyzw'[group]}"
        pane = ", ".join(f"{_vec(vector(corner))} - p" for corner in corners)
        body += f"\n  if ({seen} > 0.0) glint += {_vec(vector(mean))} * {seen} * taken(to, {pane});"
    return f"vec3 windows(vec3 p, mat3 to, vec4 seen) {{ vec3 glint = vec3(0.0);{body}\n  return glint; }}\n"


def _albedo(material: Appearance) -> str:
    """Code for a surface's own colour: boards are looked at with care, paint once, an even colour not at all."""
    if material.albedo.shape[:2] == (1, 1):
        return _vec(material.mean)
    look = "surface" if material.size[0] or material.shine > 0 else "paint"
    return f"linear({look}(actortexture, tcoordVCVSOutput.st))"


def fragment(scene: Scene, material: Appearance) -> tuple[str, str]:
    """Declarations and body of the fragment code for one material."""
    dec = SURFACE + PHOTO + _sun(scene.lights)
    if material.shine > 0:
        dec += GLOSS + lobe_code(material.rough) + _reflection(scene.lights)
    sun = scene.lights.sun
    if material.pane:
        body = f"vec3 c = {_vec(scene.lights.outdoors)} * outdoors(normalize(placeVS - eye));\n"
        tail = "fragOutput0 = vec4(film(c), 1.0);\n"
        return dec, body + tail
    body = f"""
vec3 albedo = {_albedo(material)};
vec3 n = normalize(facingVS), v = normalize(eye - placeVS);
float patch = max(dot(n, {_vec(sun.towards)}), 0.0) * sunnyVS;
if (patch > 0.0) patch *= sunlight(placeVS);
vec3 e = max(lightVS, vec3(0.0)) + patch * {_vec(sun.power)};
vec3 c = albedo * e + {_vec(material.glow)} * (0.5 + 0.5 * clamp(dot(n, v), 0.0, 1.0));
"""
    if material.shine > 0:
        body += f"""
vec4 q = lobe(clamp(dot(n, v), 0.02, 1.0));
float uneven = 0.75 + 0.5 * albedo.g / (albedo.g + {material.mean[1]:.4f});
vec3 glint = windows(placeVS, unbent(n, v, q.xyz), seesVS);
c += {material.shine:.4f} * q.w * uneven * (glint + 0.5 * lightVS);
"""
    return dec, body + f"fragOutput0 = vec4(film(c * {_vec(scene.exposure)}), 1.0);\n"


def neutral(
    tint: tuple[float, float, float] = (1.0, 1.0, 1.0), *, textured: float = 1.0, alpha: float = 1.0, lit: bool = False
) -> tuple[str, str]:
    """Even light for technical views; the film's curve is left out.

    Args:
        tint: colour that the texture is mixed with, sRGB 0 to 1.
        textured: share of the texture in that mix.
        alpha: how solid the surface is.
        lit: light comes with the vertices; else from three soft lamps that know no room.
    """
    key, rim = "dot(n, normalize(vec3(-0.35, -0.45, -0.6)))", "dot(n, normalize(vec3(0.8, -0.2, 0.1)))"
    shade = "lightVS.x * 2.0" if lit else f"1.25 * max(0.62 + 0.30 * {key} + 0.16 * {rim}, 0.12)"
    body = f"""
vec3 n = normalize(facingVS);
vec3 albedo = pow(mix({_vec(tint)}, surface(actortexture, tcoordVCVSOutput.st), {textured:.3f}), vec3(2.2));
vec3 c = albedo * {shade};
c = pow(c / (1.0 + 0.25 * c), vec3(1.0 / 2.2));
fragOutput0 = vec4(clamp(c, 0.0, 1.0), {alpha:.3f});
"""
    return SURFACE, body
