// The plan of a roof that is being measured: its own shapes, the water of the last answer, and what was read where.

import {corners} from './roof.js';
import {formatDepth, formatLength} from './length.js';

const dark = '#28002F';
const chalkInk = '#7A3E00';
const depthInk = '#14204F';
const photoInk = '#7C1ECC';

// ovalRing returns an oval of two lengths about a place.
export function ovalRing({at, east, north}) {
	return Array.from({length: 48}, (_, i) => [at[0] + east / 2 * Math.cos(i * Math.PI / 24), at[1] + north / 2 * Math.sin(i * Math.PI / 24)]);
}

// curbRing returns the corners of a curb.
export function curbRing({at: [x, y], east, north}) {
	return [[x, y], [x + east, y], [x + east, y + north], [x, y + north]];
}

// pictureOf returns the picture that the plan draws. shown is the last answer's picture, null where there is none; water that of a newer one, of which
// only the water is known yet, null where there is none.
export function pictureOf(roof, shown, water) {
	const {ring} = corners(roof.outline);
	const stands = water ?? shown;
	const from = (picture) => {
		const [x, y] = picture ? shiftOf(picture) : [0, 0];
		return (at) => [at[0] + x, at[1] + y];
	};
	const moved = from(stands);
	const asked = from(shown);
	return {
		units: roof.units, outline: ring.length > 2 ? [ring] : [], spots: [],
		curbs: roof.curbs.map((c) => ({name: c.label || 'curb', ring: curbRing(c)})),
		outlets: roof.outlets.map((o) => ({label: o.label, type: o.type, overflow: o.overflow, at: o.at})),
		water: (stands?.water ?? []).map((b) => ({...b, rings: b.rings.map((r) => r.map(moved))})),
		ponds: (stands?.ponds ?? []).map((p) => ({...p, at: moved(p.at)})),
		next: (shown?.next ?? []).map((n) => ({...n, at: asked(n.at)})),
	};
}

// shiftOf returns how far the frame of an answer lies from corner 1 [m].
function shiftOf({origin, metres}) {
	return [origin[0] * metres, origin[1] * metres];
}

// drawSketch draws on a plan what the program's picture does not hold.
export function drawSketch(plan, roof, photos, marked, way) {
	const c = plan.context;
	edges(plan, roof);
	for (const p of roof.ponds) chalk(plan, p);
	const [wide, high] = [Math.max(...roof.spots.map((s) => s.at[0])) - Math.min(...roof.spots.map((s) => s.at[0])), Math.max(...roof.spots.map((s) => s.at[1])) - Math.min(...roof.spots.map((s) => s.at[1]))];
	const room = roof.spots.length < 13 || wide * high * plan.view.scale ** 2 / roof.spots.length > 3600; // px2: a height is 60 px wide
	for (const s of roof.spots) {
		if (s.height === null) continue;
		const [x, y] = plan.at(s.at);
		c.fillStyle = dark;
		c.beginPath();
		c.arc(x, y, 4, 0, 7);
		c.fill();
		if (room) plan.label(s.at, roof.units === 'us' ? formatLength(s.height, 'us') : s.height.toFixed(3), 13, false, 6);
	}
	for (const l of roof.slopes) arrow(plan, l.at, l.toward, '#005C42', '');
	photos.forEach((p, i) => p.at && arrow(plan, p.at, p.toward, photoInk, String(i + 1)));
	if (marked) cross(plan, marked);
	if (marked && way) arrow(plan, marked, way, photoInk, ' ');
}

function edges(plan, roof) {
	const {ring} = corners(roof.outline);
	if (ring.length < 2) return;
	const c = plan.context;
	for (const e of roof.edges) {
		if (e.type === 'wall' || !ring[e.wall - 1]) continue;
		c.strokeStyle = e.type === 'gutter' ? '#228F60' : '#8a8291';
		c.lineWidth = 6;
		c.setLineDash(e.type === 'gutter' ? [] : [3, 7]);
		c.beginPath();
		c.moveTo(...plan.at(ring[e.wall - 1]));
		c.lineTo(...plan.at(ring[e.wall % ring.length]));
		c.stroke();
		c.setLineDash([]);
	}
}

function chalk(plan, pond) {
	const c = plan.context;
	const ring = pond.oval ? ovalRing(pond.oval) : pond.chalk;
	c.strokeStyle = chalkInk;
	c.lineWidth = 2.5;
	c.setLineDash([7, 5]);
	c.beginPath();
	ring.forEach((p, i) => (i === 0 ? c.moveTo(...plan.at(p)) : c.lineTo(...plan.at(p))));
	if (ring.length > 2) c.closePath();
	c.stroke();
	c.setLineDash([]);
	c.fillStyle = chalkInk;
	for (const p of pond.chalk) {
		const [x, y] = plan.at(p);
		c.fillRect(x - 4, y - 4, 8, 8);
	}
	for (const s of pond.soundings) {
		const [x, y] = plan.at(s.at);
		c.fillStyle = depthInk;
		c.beginPath();
		c.moveTo(x, y + 6);
		c.lineTo(x - 6, y - 5);
		c.lineTo(x + 6, y - 5);
		c.closePath();
		c.fill();
	}
}

const ways = {N: [0, -1], NE: [1, -1], E: [1, 0], SE: [1, 1], S: [0, 1], SW: [-1, 1], W: [-1, 0], NW: [-1, -1]};

function arrow(plan, at, toward, ink, text) {
	const c = plan.context;
	const [x, y] = plan.at(at);
	const way = ways[toward];
	c.strokeStyle = c.fillStyle = ink;
	c.lineWidth = 3;
	c.beginPath();
	c.arc(x, y, text ? 11 : 4, 0, 7);
	c.fill();
	if (way) {
		const long = Math.hypot(...way);
		const [dx, dy] = [way[0] / long, way[1] / long];
		const [ex, ey] = [x + dx * 30, y + dy * 30];
		c.beginPath();
		c.moveTo(x, y);
		c.lineTo(ex, ey);
		c.moveTo(ex - dx * 8 - dy * 6, ey - dy * 8 + dx * 6);
		c.lineTo(ex, ey);
		c.lineTo(ex - dx * 8 + dy * 6, ey - dy * 8 - dx * 6);
		c.stroke();
	}
	if (!text) return;
	c.fillStyle = '#fff';
	c.font = '700 14px system-ui, sans-serif';
	c.textBaseline = 'middle';
	c.fillText(text, x - c.measureText(text).width / 2, y + 1);
}

function cross(plan, at) {
	const c = plan.context;
	const [x, y] = plan.at(at);
	for (const [ink, width] of [['#fff', 8], ['#B73A00', 4]]) {
		c.strokeStyle = ink;
		c.lineWidth = width;
		c.beginPath();
		c.arc(x, y, 14, 0, 7);
		c.moveTo(x - 22, y);
		c.lineTo(x + 22, y);
		c.moveTo(x, y - 22);
		c.lineTo(x, y + 22);
		c.stroke();
	}
}

// thingsOf lists what lies on a roof: {list, thing, at, name, part}. part is the index of a chalk mark or sounding of a pond.
export function thingsOf(roof, photos) {
	const u = roof.units;
	const height = (h) => (h === null || h === undefined ? '' : ', reads ' + formatLength(h, u));
	const named = {low: 'Lowest place of P', lip: 'Lip of P', before: 'Roof before '};
	return [
		...roof.outlets.map((t) => ({list: 'outlets', thing: t, at: t.at, name: t.label + height(t.height)})),
		...roof.spots.map((t) => ({list: 'spots', thing: t, at: t.at, name: (named[t.what] ? named[t.what] + t.of : 'Height ' + t.id.slice(1)) + height(t.height)})),
		...roof.ponds.flatMap((t) => [
			...t.soundings.map((s, i) => ({list: 'ponds', thing: t, part: 'soundings', index: i, at: s.at, name: 'Depth in P' + t.number + ': ' + formatDepth(s.depth, u)})),
			...t.chalk.map((at, i) => ({list: 'ponds', thing: t, part: 'chalk', index: i, at, name: 'P' + t.number + ', chalk mark ' + (i + 1)})),
			{list: 'ponds', thing: t, at: t.oval ? t.oval.at : t.chalk[0], name: 'P' + t.number + ': water\'s edge'},
		]),
		...roof.curbs.map((t) => ({list: 'curbs', thing: t, at: [t.at[0] + t.east / 2, t.at[1] + t.north / 2], name: t.label || 'Curb ' + t.id.slice(1)})),
		...roof.slopes.map((t) => ({list: 'slopes', thing: t, at: t.at, name: 'Slope ' + t.id.slice(1) + ', toward ' + t.toward})),
		...photos.map((t, i) => ({list: 'photos', thing: t, at: t.at, name: 'Photo ' + (i + 1) + (t.of ? ' of ' + t.of : '')})),
	];
}

// thingAt returns what lies within reach of a place [m], the nearest; null where nothing does.
export function thingAt(roof, photos, at, reach) {
	let best = null;
	let least = reach;
	for (const t of thingsOf(roof, photos)) {
		if (!t.at) continue;
		const far = Math.hypot(t.at[0] - at[0], t.at[1] - at[1]);
		if (far < least) [best, least] = [t, far];
	}
	return best;
}
