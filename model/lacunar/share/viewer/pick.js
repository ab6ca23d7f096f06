// What a ray meets, worked out of the same numbers that are drawn: front faces of what is shown, where it is shown.

/** The first thing along a ray: { body, point } with the point where it is when nothing is pulled apart; or null. */
function firstHit(model, ray, eye) {
  let best = null;
  const local = new THREE.Ray(), matrix = new THREE.Matrix4();
  for (const thing of model.things) {
    const { mesh } = thing;
    if (!model.shown[mesh.group] || model.isBehind(mesh.wall, eye)) continue;
    local.copy(ray);
    local.origin.z += model.dropOf(mesh).value;
    if (thing.copy >= 0) local.applyMatrix4(matrix.copy(placeOf(mesh, thing.copy)).invert());
    if (!local.intersectsSphere(thing.ball)) continue;
    const point = nearest(thing, local);
    if (!point) continue;
    if (thing.copy >= 0) point.applyMatrix4(placeOf(mesh, thing.copy));
    const start = ray.origin.clone();
    start.z += model.dropOf(mesh).value;
    const far = point.distanceTo(start);
    if (!best || far < best.far) best = { body: thing.body, point, far };
  }
  return best;
}

/** How a copy of a shape is placed. */
function placeOf(mesh, copy) {
  const r = mesh.rows.subarray(12 * copy, 12 * copy + 12);
  return new THREE.Matrix4().set(...r, 0, 0, 0, 1);
}

function nearest(thing, ray) {
  const { places, mesh, from, to } = thing;
  const corners = [new THREE.Vector3(), new THREE.Vector3(), new THREE.Vector3()], hit = new THREE.Vector3();
  let found = null, least = Infinity;
  for (let i = from; i < to; i += 3) {
    corners.forEach((corner, k) => corner.fromArray(places, 3 * mesh.faces[i + k]));
    if (!ray.intersectTriangle(...corners, true, hit)) continue;
    const far = hit.distanceToSquared(ray.origin);
    if (far < least) [found, least] = [hit.clone(), far];
  }
  return found;
}

/** The corner of a body that is seen within so many pixels of a place; null where none is. */
function cornerNear(model, body, place, view, reach) {
  const ends = model.choice.edges.of[body] ? model.edges(body) : floorCorners(model.choice);
  const drop = model.drops[model.choice.groups[body]].value, near = [];
  for (let i = 0; i < ends.length; i += 3) {
    const corner = new THREE.Vector3().fromArray(ends, i), screen = view.toScreen(corner.clone().setZ(corner.z - drop));
    const off = Math.hypot(screen.x - place.x, screen.y - place.y);
    if (off < reach) near.push({ corner, screen, off });
  }
  near.sort((a, b) => a.off - b.off);
  // One that lies behind something is not meant: at a corner two or three others may be as near.
  return near.find(({ corner, screen }) => {
    const hit = view.hit(screen), far = view.eye.at.distanceTo(corner.clone().setZ(corner.z - drop));
    return !hit || hit.far > far - 0.004;
  })?.corner;
}

function floorCorners(choice) {
  return choice.walls.flatMap(([x, y]) => [x, y, 0]);
}
