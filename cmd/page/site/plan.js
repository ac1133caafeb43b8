// The plan on a canvas: outline, water by depth, outlets, spots to take. Colours are those of the program's drawings, one meaning each.

const ink = '#28002F';
const water = [43, 57, 130];
const primary = '#228F60';
const overflow = '#5F8794';
const wanted = '#B73A00';

// tint mixes the water's colour with white.
function tint(strength) {
	return 'rgb(' + water.map((c) => Math.round(255 - (255 - c) * strength)).join(',') + ')';
}

// Plan draws one picture on a canvas and lets fingers and mice move it. ontap is told the place on the roof that was tapped [m], and how many metres a
// finger's width is.
export class Plan {
	constructor(canvas) {
		this.canvas = canvas;
		this.context = canvas.getContext('2d');
		this.picture = null;
		this.view = null;
		this.chosen = -1; // index of the spot to take that is shown large
		this.hold = false; // fingers work on the plan and never scroll the page
		this.over = []; // functions that draw on top, each called with this plan
		this.ontap = () => {};
		this.ondrag = null; // asked for a place whether a drag begins there: returns an object with move(place) and end(), or nothing
		this.pointers = new Map();
		this.listen();
		new ResizeObserver(() => this.resize()).observe(canvas);
	}

	// show draws a picture; the part of the roof that is in sight stays where the outline is the same.
	show(picture) {
		const same = this.picture && JSON.stringify(this.picture.outline) === JSON.stringify(picture.outline);
		this.picture = picture;
		if (!same) this.view = null;
		this.draw();
	}

	resize() {
		const box = this.canvas.getBoundingClientRect();
		if (box.width === 0) return;
		const ratio = window.devicePixelRatio || 1;
		this.canvas.width = Math.round(box.width * ratio);
		this.canvas.height = Math.round(box.height * ratio);
		this.width = box.width;
		this.height = box.height;
		this.ratio = ratio;
		this.view = null;
		this.draw();
	}

	// fit shows the whole roof.
	fit() {
		this.view = null;
		this.draw();
	}

	// zoom makes the plan larger by a factor, about a place of the canvas [px].
	zoom(factor, x = this.width / 2, y = this.height / 2) {
		if (!this.view) return;
		const v = this.view;
		const scale = Math.min(Math.max(v.scale * factor, this.least * 0.5), this.least * 60);
		const f = scale / v.scale;
		this.view = {scale, x: x - (x - v.x) * f, y: y - (y - v.y) * f};
		this.draw();
	}

	// place returns the place on the roof [m] at a place of the canvas [px].
	place(x, y) {
		return [(x - this.view.x) / this.view.scale, (this.view.y - y) / this.view.scale];
	}

	// at returns where a place on the roof lies on the canvas [px].
	at([x, y]) {
		return [this.view.x + x * this.view.scale, this.view.y - y * this.view.scale];
	}

	setView() {
		const all = this.picture.outline.flat().concat(this.picture.outlets.map((o) => o.at));
		if (all.length === 0) {
			this.view = {scale: 20, x: 40, y: this.height - 40};
			this.least = 20;
			return;
		}
		const xs = all.map((p) => p[0]);
		const ys = all.map((p) => p[1]);
		const [west, east, south, north] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
		const side = 30;
		const scale = Math.min(Math.max(this.width - 2 * side, 20) / Math.max(east - west, 0.1), Math.max(this.height - 2 * side - 18, 20) / Math.max(north - south, 0.1));
		this.least = scale;
		this.view = {scale, x: this.width / 2 - (west + east) / 2 * scale, y: (this.height - 18) / 2 + (south + north) / 2 * scale};
	}

	// tap returns what of the picture lies under a finger: {outlet: index}, {pond: index}, or nothing.
	tap(place, reach) {
		let best = null;
		let near = reach;
		const look = (what, i, at) => {
			const d = Math.hypot(at[0] - place[0], at[1] - place[1]);
			if (d < near) {
				near = d;
				best = {[what]: i};
			}
		};
		this.picture.outlets.forEach((o, i) => {
			if (!o.line) look('outlet', i, o.at);
		});
		if (best) return best;
		near = 2 * reach;
		this.picture.ponds.forEach((p, i) => look('pond', i, p.at));
		return best;
	}

	draw() {
		if (!this.picture || !this.width) return;
		if (!this.view) this.setView();
		this.canvas.style.touchAction = this.hold || this.view.scale > this.least * 1.05 ? 'none' : 'pan-y';
		const c = this.context;
		c.setTransform(this.ratio, 0, 0, this.ratio, 0, 0);
		c.clearRect(0, 0, this.width, this.height);
		c.lineJoin = c.lineCap = 'round';
		this.taken = [];
		this.area();
		for (const b of this.picture.water) this.rings(b.rings, tint(b.strength), null);
		if (this.picture.water.length > 0) this.rings(this.picture.water.flatMap((b, i) => (i === 0 ? b.rings : [])), null, tint(1), 1.5);
		this.runs();
		this.curbs();
		this.rings(this.picture.outline, null, ink, 4);
		this.dots();
		for (const o of this.picture.outlets) this.outlet(o);
		this.spots();
		for (const draw of this.over) draw(this);
		for (const p of this.picture.ponds) this.pond(p);
		for (const o of this.picture.outlets) this.label(o.at, o.label, 15, false, o.line ? 0 : 14);
		this.furniture();
	}

	path(ring) {
		ring.forEach((p, i) => {
			const [x, y] = this.at(p);
			if (i === 0) this.context.moveTo(x, y);
			else this.context.lineTo(x, y);
		});
		this.context.closePath();
	}

	rings(rings, fill, stroke, width = 1) {
		const c = this.context;
		c.beginPath();
		for (const r of rings) this.path(r);
		if (fill) {
			c.fillStyle = fill;
			c.fill('evenodd');
		}
		if (stroke) {
			c.strokeStyle = stroke;
			c.lineWidth = width;
			c.stroke();
		}
	}

	area() {
		this.rings(this.picture.outline, '#FBF7EC', null);
	}

	curbs() {
		for (const b of this.picture.curbs) {
			this.rings([b.ring], '#E4DDE8', ink, 2);
			const xs = b.ring.map((p) => p[0]);
			const ys = b.ring.map((p) => p[1]);
			const middle = [(Math.min(...xs) + Math.max(...xs)) / 2, (Math.min(...ys) + Math.max(...ys)) / 2];
			if (b.name && (Math.max(...xs) - Math.min(...xs)) * this.view.scale > 30) this.label(middle, b.name, 13, false, 0);
		}
	}

	// runs draws the borders of what runs to each outlet, where that is shown.
	runs() {
		if (!this.picture.runs) return;
		const rings = this.picture.runs.flatMap((r) => r.rings);
		this.rings(rings, null, 'rgba(255,255,255,.8)', 5);
		this.context.setLineDash([10, 6]);
		this.rings(rings, null, primary, 2.5);
		this.context.setLineDash([]);
	}

	dots() {
		const c = this.context;
		if (this.picture.spots.length > 2000) return;
		c.fillStyle = '#7D79A3';
		for (const p of this.picture.spots) {
			const [x, y] = this.at(p);
			c.fillRect(x - 1.25, y - 1.25, 2.5, 2.5);
		}
	}

	outlet(o) {
		const c = this.context;
		c.strokeStyle = o.overflow ? overflow : primary;
		c.fillStyle = '#fff';
		c.lineWidth = 3;
		if (o.line && o.line.length > 1) {
			c.lineWidth = 8;
			c.beginPath();
			o.line.forEach((p, i) => (i === 0 ? c.moveTo(...this.at(p)) : c.lineTo(...this.at(p))));
			c.stroke();
			return;
		}
		const [x, y] = this.at(o.at);
		c.beginPath();
		if (o.type === 'drain') {
			c.arc(x, y, 8, 0, 7);
			c.fill();
			c.moveTo(x - 5, y - 5);
			c.lineTo(x + 5, y + 5);
			c.moveTo(x + 5, y - 5);
			c.lineTo(x - 5, y + 5);
		} else {
			c.rect(x - 8, y - 6, 16, 12);
			c.fill();
		}
		c.stroke();
		this.taken.push({x: x - 10, y: y - 10, w: 20, h: 20});
	}

	spots() {
		const c = this.context;
		this.picture.next.forEach((n, i) => {
			const [x, y] = this.at(n.at);
			const chosen = i === this.chosen;
			c.strokeStyle = wanted;
			c.lineWidth = chosen ? 4 : 2;
			const r = chosen ? 13 : 6;
			c.beginPath();
			c.moveTo(x - r, y);
			c.lineTo(x + r, y);
			c.moveTo(x, y - r);
			c.lineTo(x, y + r);
			c.stroke();
			if (chosen) {
				c.beginPath();
				c.arc(x, y, 18, 0, 7);
				c.stroke();
				this.taken.push({x: x - 20, y: y - 20, w: 40, h: 40});
			}
		});
	}

	pond(p) {
		this.label(p.at, p.depth ? p.id + ' ' + p.depth : p.id, 16, true, 4);
	}

	// label writes a text beside a place where there is room, with a light edge so that it reads over anything.
	label(at, text, size, strong, off) {
		if (!text) return;
		const c = this.context;
		c.font = (strong ? '700 ' : '600 ') + size + 'px system-ui, sans-serif';
		const w = c.measureText(text).width;
		const [x, y] = this.at(at);
		const h = size + 4;
		const tries = [[-w / 2, -off - h], [-w / 2, off], [off + 2, -h / 2], [-off - w - 2, -h / 2], [off, off], [-w - off, off], [off, -off - h], [-w - off, -off - h], [-w / 2, off + h], [-w / 2, -off - 2 * h]];
		for (const [dx, dy] of off === 0 ? [[-w / 2, -h / 2], ...tries] : tries) {
			const box = {x: Math.min(Math.max(x + dx, 2), this.width - w - 2), y: y + dy, w, h};
			if (this.taken.some((t) => box.x < t.x + t.w && t.x < box.x + box.w && box.y < t.y + t.h && t.y < box.y + box.h)) continue;
			this.write(box, text, size, strong);
			return;
		}
		if (strong) this.write({x: x - w / 2, y: y - h / 2, w, h}, text, size, strong);
	}

	write(box, text, size, strong) {
		const c = this.context;
		this.taken.push(box);
		c.textBaseline = 'middle';
		c.lineWidth = 5;
		c.strokeStyle = 'rgba(255,255,255,.92)';
		c.strokeText(text, box.x, box.y + box.h / 2);
		c.fillStyle = strong ? '#14204F' : ink;
		c.fillText(text, box.x, box.y + box.h / 2);
	}

	// furniture draws the bar of the scale and the arrow to the north.
	furniture() {
		const c = this.context;
		const us = this.picture.units === 'us';
		const unit = us ? 0.3048 : 1;
		const most = Math.min(130, this.width / 3) / this.view.scale / unit;
		const power = 10 ** Math.floor(Math.log10(most));
		const n = [5, 2, 1].map((k) => k * power).find((k) => k <= most * (1 + 1e-9));
		const long = n * unit * this.view.scale;
		const y = this.height - 10;
		c.strokeStyle = c.fillStyle = ink;
		c.lineWidth = 3;
		c.beginPath();
		c.moveTo(10, y - 4);
		c.lineTo(10, y);
		c.lineTo(10 + long, y);
		c.lineTo(10 + long, y - 4);
		c.stroke();
		c.font = '600 14px system-ui, sans-serif';
		c.textBaseline = 'alphabetic';
		c.fillText(Number(n.toPrecision(3)) + (us ? ' ft' : ' m'), 16 + long, y + 1);
		const x = this.width - 16;
		c.beginPath();
		c.moveTo(x, y - 22);
		c.lineTo(x - 6, y - 6);
		c.lineTo(x, y - 10);
		c.lineTo(x + 6, y - 6);
		c.closePath();
		c.fill();
		c.fillText('N', x - 22, y - 8);
	}

	listen() {
		const canvas = this.canvas;
		const where = (e) => {
			const box = canvas.getBoundingClientRect();
			return [e.clientX - box.left, e.clientY - box.top];
		};
		canvas.addEventListener('pointerdown', (e) => {
			if (!this.view) return;
			canvas.setPointerCapture(e.pointerId);
			const at = where(e);
			this.pointers.set(e.pointerId, {at, from: at});
			if (this.pointers.size === 1) {
				this.moved = false;
				this.dragged = this.ondrag?.(this.place(...at), 24 / this.view.scale);
			}
		});
		canvas.addEventListener('pointermove', (e) => {
			const p = this.pointers.get(e.pointerId);
			if (!p) return;
			const now = where(e);
			if (Math.hypot(now[0] - p.from[0], now[1] - p.from[1]) > 6) this.moved = true;
			if (this.dragged) this.dragged.move(this.place(...now));
			else if (this.moved) this.shift(e.pointerId, p.at, now);
			p.at = now;
		});
		const up = (e) => {
			const p = this.pointers.get(e.pointerId);
			this.pointers.delete(e.pointerId);
			if (!p) return;
			if (this.dragged) {
				this.dragged.end?.();
				this.dragged = null;
			} else if (!this.moved && e.type === 'pointerup' && this.pointers.size === 0) {
				this.ontap(this.place(...p.at), 24 / this.view.scale);
			}
		};
		canvas.addEventListener('pointerup', up);
		canvas.addEventListener('pointercancel', up);
		canvas.addEventListener('wheel', (e) => {
			if (!e.ctrlKey && !e.metaKey) return; // the page scrolls
			e.preventDefault();
			this.zoom(Math.exp(-e.deltaY / 300), ...where(e));
		}, {passive: false});
		canvas.addEventListener('dblclick', (e) => this.hold || this.zoom(2, ...where(e)));
	}

	// shift moves the plan with one finger, and zooms it with two.
	shift(id, from, to) {
		const others = [...this.pointers.entries()].filter(([k]) => k !== id);
		if (others.length === 0) {
			if (this.view.scale <= this.least * 1.05) return;
			this.view = {...this.view, x: this.view.x + to[0] - from[0], y: this.view.y + to[1] - from[1]};
			this.draw();
			return;
		}
		const o = others[0][1].at;
		const before = Math.hypot(from[0] - o[0], from[1] - o[1]);
		const after = Math.hypot(to[0] - o[0], to[1] - o[1]);
		if (before > 10) this.zoom(after / before, ...o);
	}
}
