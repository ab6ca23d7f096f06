// Where one looks from: standing in the room and turning one's head, or turning the whole like a model in the hand.

const STEEPEST = Math.PI / 2 - 0.001;

class Eye {
  constructor(data, model) {
    this.camera = new THREE.PerspectiveCamera(60, 1, 0.03, 200);
    this.camera.up.set(0, 0, 1);
    this.places = data.places;
    this.room(model);
    this.go("door");
  }

  /** Learns a room's size. */
  room(model) {
    const xs = model.choice.walls.map(([x]) => x), ys = model.choice.walls.map(([, y]) => y);
    const low = [Math.min(...xs), Math.min(...ys)], high = [Math.max(...xs), Math.max(...ys)];
    this.ceiling = model.choice.height;
    this.wide = Math.max(high[0] - low[0], high[1] - low[1]);
    this.across = Math.hypot(high[0] - low[0], high[1] - low[1]);
    this.centre = new THREE.Vector3((low[0] + high[0]) / 2, (low[1] + high[1]) / 2, this.ceiling);
  }

  go(place) {
    this.place = place;
    const from = this.places[place];
    this.stands = Boolean(from);
    this.middle = this.centre.clone();
    if (from) {
      this.at = new THREE.Vector3(...from);
      const way = this.centre.clone().sub(this.at);
      this.yaw = Math.atan2(way.y, way.x);
      this.pitch = Math.atan2(way.z, Math.hypot(way.x, way.y)) + 0.04;
      return;
    }
    // What is pulled apart hangs down into the room.
    if (place === "outside") this.middle.z *= 0.7;
    // Straight up, wall AB lies at the top: one has tilted one's head back from looking down the page.
    [this.yaw, this.pitch] = place === "up" ? [-Math.PI / 2, STEEPEST] : [Math.PI / 2 - 0.5, 0.36];
    this.far = place === "up" ? 1.2 * this.wide : 1.3 * this.across;
    this.step();
  }

  /** Where one looks from, to be found again by the next page. */
  get kept() {
    const { place, stands, yaw, pitch, far } = this;
    return { place, stands, yaw, pitch, far, at: this.at.toArray(), middle: this.middle.toArray() };
  }

  set kept({ at, middle, ...rest }) {
    Object.assign(this, rest);
    this.at.fromArray(at);
    this.middle.fromArray(middle);
  }

  get way() {
    const level = Math.cos(this.pitch);
    return new THREE.Vector3(level * Math.cos(this.yaw), level * Math.sin(this.yaw), Math.sin(this.pitch));
  }

  step() {
    if (!this.stands) this.at = this.middle.clone().addScaledVector(this.way, -this.far);
  }

  turn(across, up) {
    // What is under the finger goes with it: the head turns the other way.
    const sign = this.stands ? 1 : -1;
    this.yaw += across * sign;
    this.pitch = Math.min(STEEPEST, Math.max(-STEEPEST, this.pitch + up * sign));
    this.step();
  }

  /** Nearer by a factor below 1, or farther. */
  zoom(factor) {
    if (this.stands) this.at.addScaledVector(this.way, -Math.log(factor) * 0.4 * this.wide);
    else this.far = Math.min(6 * this.wide, Math.max(0.3, this.far * factor));
    this.keep();
    this.step();
  }

  /** Aside and up, in shares of the picture's height. */
  pan(across, up) {
    const way = this.way, right = new THREE.Vector3(Math.sin(this.yaw), -Math.cos(this.yaw), 0);
    const above = new THREE.Vector3().crossVectors(right, way), by = this.stands ? 0.6 * this.ceiling : this.far;
    for (const spot of [this.at, this.middle]) spot.addScaledVector(right, -across * by).addScaledVector(above, up * by);
    this.keep();
    this.step();
  }

  keep() {
    const reach = 3 * this.wide;
    for (const spot of [this.at, this.middle]) spot.sub(this.centre).clampLength(0, reach).add(this.centre);
  }

  aim(width, height) {
    const camera = this.camera, narrow = Math.tan(((this.stands ? 62 : 44) * Math.PI) / 360);
    camera.aspect = width / height;
    // The narrower side has this angle.
    camera.fov = (360 / Math.PI) * Math.atan(width < height ? Math.min(narrow / camera.aspect, 1.35) : narrow);
    // As far off as may be, or what lies thinly over another shows through it.
    camera.near = this.stands ? 0.03 : Math.max(0.03, this.far / 50);
    camera.position.copy(this.at);
    camera.lookAt(this.at.clone().add(this.way));
    camera.updateProjectionMatrix();
    camera.updateMatrixWorld();
  }
}

/** Mouse, fingers, wheel and keys on a canvas. `on`: turn, pan, zoom, tap. */
function handled(canvas, on) {
  const held = new Map();
  let moved = 0, were = null;
  const spot = (event) => {
    const box = canvas.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
  };
  const pair = () => {
    const [a, b] = [...held.values()];
    return { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2, wide: Math.hypot(a.x - b.x, a.y - b.y) };
  };
  canvas.addEventListener("pointerdown", (event) => {
    canvas.setPointerCapture(event.pointerId);
    if (!held.size) moved = 0;
    held.set(event.pointerId, spot(event));
    were = held.size === 2 ? pair() : null;
  });
  canvas.addEventListener("pointermove", (event) => {
    const before = held.get(event.pointerId);
    if (!before) return;
    const now = spot(event), dx = now.x - before.x, dy = now.y - before.y, high = canvas.clientHeight;
    held.set(event.pointerId, now);
    moved += Math.hypot(dx, dy);
    if (held.size === 2) {
      const is = pair();
      moved = Infinity;
      on.zoom(were.wide / Math.max(is.wide, 1));
      on.pan((is.x - were.x) / high, (were.y - is.y) / high);
      were = is;
    } else if (moved > 5) {
      if (event.shiftKey || event.buttons & 2) on.pan(dx / high, -dy / high);
      else on.turn(dx / high, dy / high);
    }
  });
  const up = (event) => {
    if (held.delete(event.pointerId) && !held.size && moved <= 5 && event.type === "pointerup") on.tap(spot(event));
  };
  canvas.addEventListener("pointerup", up);
  canvas.addEventListener("pointercancel", up);
  canvas.addEventListener("contextmenu", (event) => event.preventDefault());
  canvas.addEventListener("wheel", (event) => {
    // Who only scrolls the page past the figure goes on scrolling.
    if (document.activeElement !== canvas) return;
    event.preventDefault();
    on.zoom(Math.exp(Math.max(-1, Math.min(1, event.deltaY * 0.0015))));
  }, { passive: false });
  const keys = {
    ArrowLeft: [0.1, 0], ArrowRight: [-0.1, 0], ArrowUp: [0, 0.1], ArrowDown: [0, -0.1],
  };
  canvas.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    if (keys[event.key]) (event.shiftKey ? on.pan : on.turn)(...keys[event.key]);
    else if (event.key === "+" || event.key === "=") on.zoom(0.9);
    else if (event.key === "-") on.zoom(1 / 0.9);
    else if (event.key === "Enter" || event.key === " ") on.tap({ x: canvas.clientWidth / 2, y: canvas.clientHeight / 2 });
    else if (event.key === "Escape") on.letGo();
    else return;
    event.preventDefault();
  });
}
