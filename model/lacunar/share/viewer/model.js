// One design as meshes of the viewer library, and as plain numbers for whoever asks what a ray meets.

const LIGHTS_WIDE = 2048;
const LIFT = 0.002; // metres
const FILL = 0.6; // light on faces that lie on one another, of a wall's; tuned by eye

/** The light of all shared shapes as one image, four bytes a vertex; where each shape's starts. */
function lightsOf(meshes) {
  const shared = meshes.filter((mesh) => mesh.bodies);
  const total = shared.reduce((sum, mesh) => sum + mesh.n * mesh.copies, 0);
  const high = Math.max(1, Math.ceil(total / LIGHTS_WIDE)), pixels = new Uint8Array(4 * LIGHTS_WIDE * high);
  const starts = new Map();
  let at = 0;
  for (const mesh of shared) {
    starts.set(mesh, at);
    for (let i = 0; i < mesh.n * mesh.copies; i++, at++) {
      for (let k = 0; k < 3; k++) pixels[4 * at + k] = mesh.light[3 * i + k];
    }
  }
  const texture = new THREE.DataTexture(pixels, LIGHTS_WIDE, high);
  texture.needsUpdate = true;
  return { texture, starts };
}

function geometryOf(mesh) {
  const made = mesh.bodies ? new THREE.InstancedBufferGeometry() : new THREE.BufferGeometry();
  made.setAttribute("place", new THREE.BufferAttribute(mesh.place, 4));
  made.setAttribute("facing", new THREE.BufferAttribute(mesh.facing, 4, true));
  made.setAttribute("grain", new THREE.BufferAttribute(mesh.grain, 2));
  made.setIndex(new THREE.BufferAttribute(mesh.faces, 1));
  if (!mesh.bodies) {
    made.setAttribute("light", new THREE.BufferAttribute(mesh.light, 3, true));
    return made;
  }
  made.instanceCount = mesh.copies;
  const rows = new THREE.InstancedInterleavedBuffer(mesh.rows, 12);
  for (const [i, name] of ["rowX", "rowY", "rowZ"].entries()) {
    made.setAttribute(name, new THREE.InterleavedBufferAttribute(rows, 4, 4 * i));
  }
  made.setAttribute("turned", new THREE.InstancedBufferAttribute(mesh.turned, 4));
  made.setAttribute("body", new THREE.InstancedBufferAttribute(Float32Array.from(mesh.bodies), 1));
  return made;
}

/** One design: what is drawn, by switch and wall, and what it is made of. */
class Model {
  constructor(choice, data, pictures, common) {
    this.choice = choice;
    this.groups = data.groups;
    this.root = new THREE.Group();
    this.drops = data.groups.map(() => ({ value: 0 }));
    this.lifted = { value: 0 };
    this.evens = data.groups.map(() => ({ value: 0 }));
    this.shown = data.groups.map(() => true);
    this.drawn = [];
    const lights = lightsOf(choice.meshes);
    for (const mesh of choice.meshes) {
      const own = {
        drop: this.dropOf(mesh),
        // What lies above is seen by nobody, so no light was worked out for it.
        even: mesh.above ? { value: FILL } : this.evens[mesh.group],
        lights: { value: lights.texture },
        firstLight: { value: lights.starts.get(mesh) ?? 0 },
        vertices: { value: mesh.n },
      };
      const material = painted(mesh, choice.materials[mesh.material], data, common, pictures, own);
      const drawn = new THREE.Mesh(geometryOf(mesh), material);
      drawn.frustumCulled = false;
      drawn.matrixAutoUpdate = false;
      this.drawn.push([mesh, drawn]);
      this.root.add(drawn);
    }
    this.firstEdge = [];
    choice.edges.of.reduce((at, n) => (this.firstEdge.push(at), at + n), 0);
    this.lines = data.groups.map((_, group) => this.linesOf((body) => choice.groups[body] === group, 0x3a2e24, 0.55));
    this.outline = new THREE.Group();
    this.root.add(this.outline, ...this.lines.filter(Boolean));
    this.things = thingsOf(choice);
  }

  /** By how much a mesh is drawn lower. The plate lies where the undersides of single coffers do, and those are seen. */
  dropOf(mesh) {
    return mesh.above ? this.lifted : this.drops[mesh.group];
  }

  /** Places of a body's edges, two to an edge. */
  edges(body) {
    const from = 6 * this.firstEdge[body];
    return this.choice.edgePlaces.subarray(from, from + 6 * this.choice.edges.of[body]);
  }

  linesOf(wanted, colour, opacity, onTop = false) {
    const places = [];
    this.choice.names.forEach((_, body) => wanted(body) && places.push(...this.edges(body)));
    if (!places.length) return null;
    const geometry = new THREE.BufferGeometry();
    geometry.setAttribute("position", new THREE.Float32BufferAttribute(places, 3));
    const look = { color: colour, transparent: true, opacity, depthTest: !onTop };
    const lines = new THREE.LineSegments(geometry, new THREE.LineBasicMaterial(look));
    lines.frustumCulled = false;
    lines.renderOrder = onTop ? 2 : 1;
    return lines;
  }

  /** Draws a body's edges over everything; none where it is null. */
  choose(body, colour) {
    for (const old of [...this.outline.children]) {
      old.geometry.dispose();
      this.outline.remove(old);
    }
    const lines = body === null ? null : this.linesOf((one) => one === body, colour, 1, true);
    if (!lines) return;
    lines.position.z = -this.drops[this.choice.groups[body]].value;
    this.outline.add(lines);
  }

  /** Sets what is seen, for an eye. `apart`: 0 to 1. */
  dress(eye, apart) {
    const taken = apart > 0 || this.choice.switches.some((group) => this.groups[group].covers && !this.shown[group]);
    this.groups.forEach((group, i) => {
      this.drops[i].value = (group.level ?? 0) * apart * this.choice.apart;
      this.evens[i].value = group.level !== null && taken ? FILL : 0;
      const lines = this.lines[i];
      if (!lines) return;
      lines.visible = taken && this.shown[i];
      lines.position.z = -this.drops[i].value;
    });
    this.lifted.value = this.drops[0].value - LIFT;
    for (const [mesh, drawn] of this.drawn) drawn.visible = this.shown[mesh.group] && !this.isBehind(mesh.wall, eye);
  }

  /** Whether a wall stands between an eye outside of the room and the room. */
  isBehind(wall, eye) {
    if (wall < 0) return false;
    const ring = this.choice.walls, [ax, ay] = ring[wall], [bx, by] = ring[(wall + 1) % ring.length];
    return (bx - ax) * (eye.y - ay) - (by - ay) * (eye.x - ax) < 0;
  }
}

/** Every body with its triangles: of which mesh and copy, from where to where, and a ball around it. */
function thingsOf(choice) {
  const things = [];
  for (const mesh of choice.meshes) {
    const places = inBox(subPlaces(mesh.place), mesh.box, 3);
    if (mesh.bodies) {
      const ball = ballOf(places, mesh.faces, 0, mesh.faces.length);
      mesh.bodies.forEach((body, copy) => things.push({ body, mesh, places, copy, from: 0, to: mesh.faces.length, ball }));
      continue;
    }
    for (let from = 0, to; from < mesh.faces.length; from = to) {
      const body = mesh.place[4 * mesh.faces[from] + 3];
      for (to = from; to < mesh.faces.length && mesh.place[4 * mesh.faces[to] + 3] === body; to += 3);
      things.push({ body, mesh, places, copy: -1, from, to, ball: ballOf(places, mesh.faces, from, to) });
    }
  }
  return things;
}

function subPlaces(place) {
  const out = new Uint16Array((place.length / 4) * 3);
  for (let i = 0, k = 0; i < place.length; i += 4) for (let j = 0; j < 3; j++) out[k++] = place[i + j];
  return out;
}

function ballOf(places, faces, from, to) {
  const box = new THREE.Box3(), at = new THREE.Vector3();
  for (let i = from; i < to; i++) box.expandByPoint(at.fromArray(places, 3 * faces[i]));
  return box.getBoundingSphere(new THREE.Sphere());
}
