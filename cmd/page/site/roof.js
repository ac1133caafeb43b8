// A roof that is being measured on the device: what it holds, how it changes, and the one file that it is exported as.
//
// A roof is a plain object, never changed in place, so that it can be stored, compared and undone:
//
//	{
//	  id, name, units: 'us' | 'si',
//	  outline: null | {kind: 'rect', east, north} | {kind: 'walls', walls: [{toward: 'E', length}, ...]},
//	  edge: 'wall' | 'gutter' | 'free' | '',        // of walls that say nothing themselves; '': nobody knows yet
//	  heights: 'rod' | 'elevation',                 // what the heights of this roof are; rods are read downwards, as of the first set-up
//	  shift,                                        // what makes a rod of the present set-up one of the first; a reading that was taken so has it too
//	  edges:   [{id, wall: number from 1, type}],
//	  outlets: [{id, label, type: 'drain' | 'scupper', overflow: bool, at, size, height}], // size: diameter or width; height: of its inlet
//	  curbs:   [{id, label, at, east, north}],      // at: south-west corner
//	  spots:   [{id, at, height, what, of}],        // what: '' | 'low' | 'lip' | 'before'; of: a pond's number, an outlet's label
//	  ponds:   [{id, number, hours, outlets: '' | 'clear' | 'blocked', note, chalk: [at, ...], oval: null | {at, east, north}, soundings: [{at, depth}]}],
//	  slopes:  [{id, at, level, gap, toward}],      // level: length of the level
//	  visit:   {surveyed, weather, ...},            // what was noted beside the measurements: texts, by the names of visitNames
//	  changed, exported                             // times [ms]; exported: of the state that was last exported, 0 for never
//	}
//
// All lengths are metres. A place is [x, y]: metres east and north of corner 1, which is the south-west corner of a rectangle, else where
// the first wall begins. A height that was not read is null.

import {exactly, exactlySmall} from './length.js';

const compass = {N: [0, 1], NE: [1, 1], E: [1, 0], SE: [1, -1], S: [0, -1], SW: [-1, -1], W: [-1, 0], NW: [-1, 1]};

// directions are the points of the compass that a wall may run toward.
export const directions = Object.keys(compass);

// lists are the lists of things of a roof, and what their ids begin with.
const lists = {edges: 'e', outlets: 'o', curbs: 'c', spots: 's', ponds: 'p', slopes: 'l'};

// visitNames are the names of what is noted on a visit, in the order in which the file has them.
export const visitNames = ['surveyed', 'surveyed_by', 'weather', 'hours_since_rain', 'instrument', 'age_years', 'coverings', 'leaks', 'warrantor', 'warranty_until', 'access', 'cuts_authorised_by'];

// newRoof returns an empty roof. now is a time [ms].
export function newRoof(units, name = '', now = Date.now()) {
	const roof = {id: 'roof-' + now.toString(36), name, units, outline: null, edge: '', heights: 'rod', visit: {}, changed: now, exported: 0};
	for (const list of Object.keys(lists)) roof[list] = [];
	return roof;
}

// set returns the roof with other values of its own: set(roof, {name: 'Shed'}).
export function set(roof, values, now = Date.now()) {
	return {...roof, ...values, changed: now};
}

// put returns the roof with a thing added to a list, or, where the list has its id, put in that one's place. A new thing gets an id, an
// outlet without a label and a pond without a number one of their own.
export function put(roof, list, thing, now = Date.now()) {
	const all = roof[list];
	const at = all.findIndex((t) => t.id === thing.id);
	if (at >= 0) return set(roof, {[list]: all.map((t, i) => (i === at ? {...t, ...thing} : t))}, now);
	const added = {...thing, id: free(all.map((t) => t.id), lists[list])};
	if (list === 'outlets' && !added.label) {
		added.label = free(all.map((t) => t.label), added.overflow ? 'OS-' : added.type === 'scupper' ? 'SC-' : 'RD-');
	}
	if (list === 'ponds' && !added.number) added.number = Number(free(all.map((t) => String(t.number)), ''));
	return set(roof, {[list]: [...all, added]}, now);
}

// remove returns the roof without a thing.
export function remove(roof, list, id, now = Date.now()) {
	return set(roof, {[list]: roof[list].filter((t) => t.id !== id)}, now);
}

// free returns the first of begin1, begin2, ... that is not taken.
function free(taken, begin) {
	let n = 1;
	while (taken.includes(begin + n)) n++;
	return begin + n;
}

// corners returns the outline's corners in the order of taping, not closed, and by how much its walls do not close [m]: shared out where tape
// error can make it, as the program does.
export function corners(outline) {
	if (!outline) return {ring: [], misclosure: 0, allowed: 0};
	if (outline.kind === 'rect') {
		return {ring: [[0, 0], [outline.east, 0], [outline.east, outline.north], [0, outline.north]], misclosure: 0, allowed: 0};
	}
	let at = [0, 0];
	const ring = [];
	let perimeter = 0;
	const sums = [0, 0]; // of the sizes of eastings and of northings
	const legs = outline.walls.map((w) => {
		const [x, y] = compass[w.toward];
		const leg = [x * w.length / Math.hypot(x, y), y * w.length / Math.hypot(x, y)];
		perimeter += w.length;
		sums[0] += Math.abs(leg[0]);
		sums[1] += Math.abs(leg[1]);
		ring.push(at);
		at = [at[0] + leg[0], at[1] + leg[1]];
		return leg;
	});
	const misclosure = Math.hypot(at[0], at[1]);
	const allowed = Math.min(perimeter / 1000 + 0.0254, 0.1524);
	if (legs.length < 3 || misclosure > allowed) return {ring, end: at, misclosure, allowed};
	let done = [0, 0]; // transit rule: each wall's easting takes its share by its size, northings alike
	const shared = legs.map((leg) => {
		const here = done;
		done = [0, 1].map((k) => done[k] + leg[k] - (sums[k] > 0 ? at[k] * Math.abs(leg[k]) / sums[k] : 0));
		return here;
	});
	return {ring: shared, misclosure, allowed};
}

// complete reports whether a roof has an outline that closes, so that it can be checked.
export function complete(roof) {
	const {ring, misclosure, allowed} = corners(roof.outline);
	if (ring.length < 3 || misclosure > allowed) return false;
	return roof.outline.kind !== 'rect' || (roof.outline.east > 0 && roof.outline.north > 0);
}

// unexported reports whether a roof has changes that are in no file yet.
export function unexported(roof) {
	return roof.changed > roof.exported;
}

// exported returns the roof as one of which a state, its present one or an earlier one, is in a file.
export function exported(roof, state = roof) {
	return {...roof, exported: state.changed};
}

// fileName returns the name of the file that a roof is exported as.
export function fileName(roof) {
	return (roof.name.toLowerCase().replace(/[^a-z0-9]+/g, '-').replace(/^-+|-+$/g, '').slice(0, 60) || 'roof') + '.csv';
}

// file returns the roof as the text of one CSV file, which "runnel check" reads with the same result.
export function file(roof) {
	const w = new Writer(roof);
	w.row('', '', '', '', w.outline());
	for (const e of roof.edges) w.row('', 'wall ' + e.wall, '', '', e.type.toUpperCase());
	for (const c of roof.curbs) w.row('', w.place(c.at), '', '', w.code('CURB ' + c.id.slice(1), {rect: w.sides(c.east, c.north), label: c.label}));
	for (const o of roof.outlets) w.outlet(o);
	for (const p of roof.ponds) w.pond(p);
	for (const s of roof.spots) w.spot(s);
	for (const l of roof.slopes) w.row('', w.place(l.at), '', '', w.code('SLOPE', {level: w.length(l.level), gap: exactlySmall(l.gap, roof.units), toward: l.toward}));
	if (visitNames.some((name) => roof.visit?.[name])) w.row('', '', '', '', w.code('VISIT', Object.fromEntries(visitNames.map((name) => [name, roof.visit[name]]))));
	return w.text();
}

// sample returns the file of an invented roof that was measured on the device: 36 by 27 m with four drains, each amid four falls, and 300 uneven heights.
export function sample() {
	let roof = set(newRoof('si', 'Sample', 0), {outline: {kind: 'rect', east: 36, north: 27}, edge: 'wall', heights: 'elevation'});
	const drains = [[9, 7], [27, 7], [9, 20], [27, 20]];
	for (const at of drains) roof = put(roof, 'outlets', {type: 'drain', overflow: false, at, size: 0.1, height: 10});
	for (let i = 0; i < 300; i++) {
		const at = [1 + 1.78 * (i % 20) + 0.3 * Math.sin(2.3 * i), 1 + 1.78 * Math.floor(i / 20) + 0.3 * Math.sin(3.1 * i)];
		const far = Math.min(...drains.map((d) => Math.max(Math.abs(at[0] - d[0]), Math.abs(at[1] - d[1]))));
		roof = put(roof, 'spots', {at, height: 10.02 + 0.02 * far + 0.004 * Math.sin(1.7 * i), what: '', of: ''});
	}
	return {name: 'sample.csv', data: new TextEncoder().encode(file(roof))};
}

// Writer gathers the rows of a roof's file.
class Writer {
	constructor(roof) {
		this.roof = roof;
		this.unit = roof.units === 'us' ? 'ft' : 'm';
		this.rows = [['point', 'place', 'depth', roof.heights === 'rod' ? 'rod' : 'elevation', 'code']];
	}

	row(...cells) {
		this.rows.push(cells);
	}

	text() {
		return this.rows.map((r) => r.join(';') + '\n').join('');
	}

	length(metres) {
		return exactly(metres, this.roof.units) + this.unit;
	}

	// height writes a reading with its unit, nothing where there is none.
	height(metres) {
		return metres === null || metres === undefined ? '' : this.length(metres);
	}

	sides(east, north) {
		return exactly(east, this.roof.units) + 'x' + exactly(north, this.roof.units) + this.unit;
	}

	// place writes a place as two distances of corner 1.
	place([x, y]) {
		return this.length(Math.abs(x)) + (x < 0 ? ' W' : ' E') + ' of corner 1, ' + this.length(Math.abs(y)) + (y < 0 ? ' S' : ' N') + ' of corner 1';
	}

	// code writes a code with its keys; those without a value are left out.
	code(word, keys) {
		let out = word;
		for (const [key, value] of Object.entries(keys)) {
			if (value === '' || value === null || value === undefined) continue;
			const text = clean(String(value));
			out += ' ' + key + '=' + (/\s|,/.test(text) ? '"' + text + '"' : text);
		}
		return out;
	}

	outline() {
		const o = this.roof.outline;
		const keys = {edge: this.roof.edge, name: this.roof.name};
		if (o.kind === 'rect') return this.code('OUTLINE', {rect: this.sides(o.east, o.north), ...keys});
		return this.code('OUTLINE', {walls: o.walls.map((l) => l.toward + ' ' + this.length(l.length)).join(', '), ...keys});
	}

	outlet(o) {
		const drain = o.type === 'drain';
		const size = o.size > 0 ? exactlySmall(o.size, this.roof.units) : '';
		const word = (drain ? 'DRAIN' : 'SCUPPER') + (o.overflow ? ' OVERFLOW' : '');
		this.row('', this.place(o.at), '', '', this.code(word, {label: o.label, [drain ? 'd' : 'w']: size}));
		if (o.height !== null && o.height !== undefined) {
			this.row('', clean(o.label), '', this.height(o.height), this.code('INLET', {of: o.label}));
		}
	}

	pond(p) {
		const keys = {hours: p.hours, outlets: p.outlets, note: p.note};
		const told = p.oval ? 'POND' : 'WATERLINE';
		if (p.oval) this.row('', this.place(p.oval.at), '', '', this.code('POND ' + p.number, {size: this.sides(p.oval.east, p.oval.north), ...keys}));
		p.chalk.forEach((at, i) => this.row('', this.place(at), '', '', this.code('WATERLINE ' + p.number, i === 0 && told === 'WATERLINE' ? keys : {})));
		for (const s of p.soundings) this.row('', this.place(s.at), exactlySmall(s.depth, this.roof.units), '', 'SOUNDING ' + p.number);
	}

	spot(s) {
		const code = {low: 'LOW ' + s.of, lip: 'LIP ' + s.of}[s.what] ?? (s.what === 'before' ? this.code('BEFORE', {of: s.of}) : '');
		this.row(s.id, this.place(s.at), '', this.height(s.height), code);
	}
}

// clean takes out of a name what would end a cell, a row or a quoted value.
function clean(text) {
	return text.replace(/[;"\r\n\t]+/g, ' ').trim();
}

// History holds a roof with its photos and what both were before, for undo.
export class History {
	constructor(roof, photos = [], most = 500) {
		this.past = [];
		this.future = [];
		this.roof = roof;
		this.photos = photos;
		this.most = most;
	}

	// take makes a roof, and photos, the present ones.
	take(roof, photos = this.photos) {
		if (roof === this.roof) return;
		this.past.push({roof: this.roof, photos: this.photos});
		if (this.past.length > this.most) this.past.shift();
		this.future = [];
		Object.assign(this, {roof, photos});
	}

	get canUndo() {
		return this.past.length > 0;
	}

	get canRedo() {
		return this.future.length > 0;
	}

	undo(now = Date.now()) {
		return this.go(this.past, this.future, now);
	}

	redo(now = Date.now()) {
		return this.go(this.future, this.past, now);
	}

	go(from, to, now) {
		if (from.length === 0) return this.roof;
		const {roof, photos} = from.pop();
		to.push({roof: this.roof, photos: this.photos});
		this.roof = {...roof, exported: this.roof.exported, changed: now};
		this.photos = photos;
		return this.roof;
	}
}
