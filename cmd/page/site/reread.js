// Reads the file of a roof that was measured in the page, so that measuring goes on where the browser has cleared the roof, or on another device.

import {directions, file, newRoof} from './roof.js';
import {parseLength} from './length.js';

const heading = /^point;place;depth;(rod|elevation);code$/;
const square = /^([\d.]+)(?:ft|m) ([EW]) of corner 1, ([\d.]+)(?:ft|m) ([NS]) of corner 1$/;

// reread returns the roof that a file holds, or null where the file is none that the page wrote: read and written again it must be the same text.
export function reread(text, now = Date.now()) {
	const lines = text.split('\n');
	const heights = heading.exec(lines[0]);
	if (!heights || lines.pop() !== '') return null;
	try {
		const roof = new Reader(heights[1], lines.slice(1).map((l) => l.split(';')), now).roof;
		return file(roof) === text ? roof : null;
	} catch {
		return null; // written by hand or by another program
	}
}

// Reader takes a row after the other into a roof.
class Reader {
	constructor(heights, rows, now) {
		const us = /=(?:"\w+ )?[\d.]+(?:x[\d.]+)?ft/.test(rows[0][4]);
		this.roof = {...newRoof(us ? 'us' : 'si', '', now), heights, changed: now, exported: now};
		for (const row of rows) {
			const [word, keys, rest] = this.code(row[4]);
			this[word === 'GUTTER' || word === 'WALL' || word === 'FREE' ? 'EDGE' : word || 'SPOT'](row, keys, rest, word);
		}
	}

	// code parts a code into its first word, its keys and the words between.
	code(text) {
		const parts = text.match(/[^\s=]+="[^"]*"|\S+/g) ?? [''];
		const keys = {};
		const rest = [];
		for (const p of parts.slice(1)) {
			const at = p.indexOf('=');
			if (at < 0) rest.push(p);
			else keys[p.slice(0, at)] = p.slice(at + 1).replace(/^"|"$/g, '');
		}
		return [parts[0], keys, rest];
	}

	length(text) {
		return parseLength(text, this.roof.units);
	}

	sides(text) {
		const unit = text.endsWith('ft') ? 'ft' : 'm';
		const [east, north] = text.slice(0, -unit.length).split('x');
		return {east: this.length(east + unit), north: this.length(north + unit)};
	}

	place(text) {
		const m = square.exec(text);
		return [this.length(m[1]) * (m[2] === 'W' ? -1 : 1), this.length(m[3]) * (m[4] === 'S' ? -1 : 1)];
	}

	put(list, thing) {
		const first = {edges: 'e', outlets: 'o', curbs: 'c', spots: 's', ponds: 'p', slopes: 'l'}[list];
		this.roof[list].push({id: first + (this.roof[list].length + 1), ...thing});
	}

	OUTLINE(row, keys) {
		this.roof.name = keys.name ?? '';
		this.roof.edge = keys.edge ?? '';
		if (keys.rect) {
			this.roof.outline = {kind: 'rect', ...this.sides(keys.rect)};
			return;
		}
		const walls = keys.walls.split(', ').map((w) => ({toward: w.split(' ')[0], length: this.length(w.split(' ')[1])}));
		if (!walls.every((w) => directions.includes(w.toward))) throw new Error('no such way');
		this.roof.outline = {kind: 'walls', walls};
	}

	VISIT(row, keys) {
		this.roof.visit = keys;
	}

	EDGE(row, keys, rest, word) {
		this.put('edges', {wall: Number(row[1].replace('wall ', '')), type: word.toLowerCase()});
	}

	CURB(row, keys, rest) {
		this.put('curbs', {id: 'c' + rest[0], label: keys.label ?? '', at: this.place(row[1]), ...this.sides(keys.rect)});
	}

	DRAIN(row, keys, rest) {
		this.outlet('drain', row, keys, rest, keys.d);
	}

	SCUPPER(row, keys, rest) {
		this.outlet('scupper', row, keys, rest, keys.w);
	}

	outlet(type, row, keys, rest, size) {
		this.put('outlets', {label: keys.label, type, overflow: rest[0] === 'OVERFLOW', at: this.place(row[1]), size: size ? this.length(size) : 0, height: null});
	}

	INLET(row, keys) {
		this.roof.outlets.find((o) => o.label === keys.of).height = this.length(row[3]);
	}

	POND(row, keys, rest) {
		this.water(rest[0], keys).oval = {at: this.place(row[1]), ...this.sides(keys.size)};
	}

	WATERLINE(row, keys, rest) {
		this.water(rest[0], keys).chalk.push(this.place(row[1]));
	}

	SOUNDING(row, keys, rest) {
		this.water(rest[0], keys).soundings.push({at: this.place(row[1]), depth: this.length(row[2])});
	}

	// water returns a pond by its number, a new one where there is none yet.
	water(number, {hours = '', outlets = '', note = ''}) {
		const known = this.roof.ponds.find((p) => p.number === Number(number));
		if (known) return known;
		this.put('ponds', {number: Number(number), hours, outlets, note, chalk: [], oval: null, soundings: []});
		return this.roof.ponds[this.roof.ponds.length - 1];
	}

	SPOT(row, keys, rest, word) {
		const what = word === undefined ? '' : word.toLowerCase();
		this.put('spots', {id: row[0], at: this.place(row[1]), height: row[3] === '' ? null : this.length(row[3]), what, of: keys.of ?? rest[0] ?? ''});
	}

	LOW(row, keys, rest, word) {
		this.SPOT(row, keys, rest, word);
	}

	LIP(row, keys, rest, word) {
		this.SPOT(row, keys, rest, word);
	}

	BEFORE(row, keys, rest, word) {
		this.SPOT(row, keys, rest, word);
	}

	SLOPE(row, keys) {
		this.put('slopes', {at: this.place(row[1]), level: this.length(keys.level), gap: this.length(keys.gap), toward: keys.toward});
	}
}
