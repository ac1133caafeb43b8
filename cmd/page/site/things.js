// The forms of the things that lie on a roof. e is the editor: its roof, its pad, its walls, and what is done with what was written.

import {Form} from './form.js';
import {insideRing} from './walls.js';
import {ovalRing} from './sketch.js';
import {put, remove, set, directions} from './roof.js';
import {compassField, photoPreview} from './photos.js';

// cardOf returns the form of a thing: {list, thing, part, index}, as sketch.js lists them; a thing without an id is new.
export function cardOf(e, it) {
	if (it.part === 'chalk') return markCard(e, it);
	if (it.part === 'soundings') return depthCard(e, it);
	return {outlets: outletCard, curbs: curbCard, spots: spotCard, ponds: pondCard, slopes: slopeCard, photos: photoCard}[it.list](e, it);
}

// ended gives a form its buttons: keep puts the thing into its list, take takes it away.
function ended(e, form, it, read) {
	const known = Boolean(it.thing.id);
	return form.end({
		read, cancel: () => e.shut(),
		keep: (values) => e.keep(put(e.roof, it.list, {...it.thing, ...values})),
		take: known && (() => e.keep(remove(e.roof, it.list, it.thing.id))),
	});
}

// moved gives a form's place.
function moved(e, form, at) {
	e.mark(at);
	return form.place(e.walls, at, (place) => e.mark(place));
}

// inletCard takes the height of an outlet's inlet alone, which the program asked for.
export function inletCard(e, outlet, wanted) {
	const form = new Form(e.pad, e.roof.units, wanted.name);
	e.mark(outlet.at);
	const height = heightField(e, form, outlet, '', true);
	return form.end({read: height, cancel: () => e.shut(), keep: (values) => e.keep(put(e.roof, 'outlets', {...outlet, ...values}))});
}

// heightField adds the height of a thing: an elevation, or what the rod reads in the set-up in which it was read. It reads {height, shift}.
function heightField(e, form, thing, more, must) {
	const rod = e.roof.heights === 'rod';
	const known = thing.height !== null && thing.height !== undefined;
	const shift = rod ? (known ? thing.shift : e.roof.shift) ?? 0 : 0;
	if (rod && e.roof.shift) form.note(known && shift !== e.roof.shift ? 'Read before the level was moved.' : 'Read as the level stands now.');
	const read = form.length((rod ? 'The rod reads' : 'Elevation') + more, {signed: !rod || shift !== 0, value: known ? thing.height - shift : null, must});
	return () => {
		const h = read();
		return {height: h === null ? null : h + shift, ...(shift !== 0 || thing.shift ? {shift} : {})};
	};
}

// readings returns what a rod was read on: [{name, height}], as of the first set-up.
export function readings(roof) {
	const read = (h) => h !== null && h !== undefined;
	return [...roof.outlets.filter((o) => read(o.height)).map((o) => ({name: 'the inlet of ' + o.label, height: o.height})), ...roof.spots.filter((s) => read(s.height)).map((s) => ({name: 'spot ' + s.id, height: s.height, at: s.at}))];
}

// levelCard takes what the rod reads, after the level was moved, on a place that was read before.
export function levelCard(e) {
	const all = readings(e.roof);
	const form = new Form(e.pad, e.roof.units, 'The level was moved');
	form.note('Hold the rod again on a place that was read before: an inlet, or a mark that you find again to the inch. Read it twice, for its error goes into all that follows.');
	const which = form.select('The place', all.map((r, i) => [String(i), r.name]), '0');
	const now = form.length('The rod reads there now', {must: true});
	return form.end({
		read: () => ({which: all[Number(which())], now: now()}), cancel: () => e.shut(), keepText: 'Go on from here',
		keep: ({which: known, now: reads}) => e.keep(set(e.roof, {shift: known.height - reads})),
	});
}

function outletCard(e, it) {
	const o = it.thing;
	const form = new Form(e.pad, e.roof.units, o.id ? o.label : {drain: 'A drain', scupper: 'A scupper'}[o.type] + (o.overflow ? ' as overflow' : ''));
	const type = form.choice('What it is', [['drain', 'Drain'], ['scupper', 'Scupper']], o.type);
	const overflow = form.choice('What it is for', [[false, 'All rain'], [true, 'Overflow only']], Boolean(o.overflow));
	const at = moved(e, form, o.at);
	const size = form.length('Size: pipe across, or opening wide (if known)', {small: true, value: o.size || null, least: 0});
	const height = heightField(e, form, o, ' at its inlet (if read)', false);
	const label = form.text('Name (left empty: the next free one)', o.label ?? '');
	return ended(e, form, it, () => ({type: type(), overflow: overflow(), at: at(), size: size() ?? 0, ...height(), label: label() || o.label || ''}));
}

function curbCard(e, it) {
	const c = it.thing;
	const form = new Form(e.pad, e.roof.units, c.id ? c.label || 'Curb' : 'A curb: unit, hatch or skylight');
	const east = form.length('Long from west to east', {value: c.east ?? null, must: true, least: 0});
	const north = form.length('Long from south to north', {value: c.north ?? null, must: true, least: 0});
	form.note('The place is its south-west corner.');
	const at = moved(e, form, c.at);
	const label = form.text('Name (if it has one)', c.label ?? '');
	return ended(e, form, it, () => ({east: east(), north: north(), at: at(), label: label()}));
}

// spotCard takes a height. it.wanted is the spot that the program asked for, which is said large.
function spotCard(e, it) {
	const s = it.thing;
	const form = new Form(e.pad, e.roof.units, it.wanted ? it.wanted.name : s.id ? 'A height' : 'A new height');
	if (it.wanted?.where) form.note(it.wanted.where, 'where');
	const height = heightField(e, form, s, '', true);
	const kinds = [['', 'The roof, anywhere']];
	for (const p of e.roof.ponds) kinds.push(['low ' + p.number, 'Lowest place of P' + p.number], ['lip ' + p.number, 'Lip of P' + p.number + ': where it would run over']);
	for (const o of e.roof.outlets) kinds.push(['before ' + o.label, 'The roof before ' + o.label]);
	const now = s.what ? s.what + ' ' + s.of : '';
	if (!kinds.some(([k]) => k === now)) kinds.push([now, now]);
	const what = form.select('What it is of', kinds, now);
	const at = moved(e, form, s.at);
	return ended(e, form, it, () => {
		const [kind, ...of] = what().split(' ');
		return {...height(), what: kind, of: of.join(' '), at: at()};
	});
}

function pondCard(e, it) {
	const p = it.thing;
	const form = new Form(e.pad, e.roof.units, 'Water' + (p.number ? ' P' + p.number : ''));
	let oval = () => null;
	if (p.oval) {
		const east = form.length('Long from west to east', {value: p.oval.east || null, must: true, least: 0});
		const north = form.length('Long from south to north', {value: p.oval.north || null, must: true, least: 0});
		form.note('The place is its middle.');
		const at = moved(e, form, p.oval.at);
		oval = () => ({at: at(), east: east(), north: north()});
	} else {
		form.note(p.chalk.length + ' chalk marks on its edge. Tap a mark on the plan to set it by tape.');
	}
	const hours = form.text('Hours since the rain (if known)', p.hours ?? '', {mode: 'decimal'});
	const outlets = form.choice('The outlets were', [['', 'Not looked at'], ['clear', 'Clear'], ['blocked', 'Blocked']], p.outlets ?? '');
	const note = form.text('Note', p.note ?? '');
	return ended(e, form, it, () => {
		const h = hours();
		if (h && !/^\d+([.,]\d+)?$/.test(h)) form.bad(form.box.querySelector('input[inputmode=decimal]'), 'Hours: a number, such as 48.');
		return {oval: oval(), hours: h.replace(',', '.'), outlets: outlets(), note: note()};
	});
}

// ofPond ends the form of a chalk mark or a depth, which is a part of a pond.
function ofPond(e, form, it, read) {
	const without = (list) => list.filter((_, i) => i !== it.index);
	return form.end({
		read, cancel: () => e.shut(),
		keep: (value) => {
			const list = it.thing[it.part];
			e.keep(put(e.roof, 'ponds', {...it.thing, [it.part]: it.index === undefined ? [...list, value] : list.map((v, i) => (i === it.index ? value : v))}));
		},
		take: it.index !== undefined && (() => {
			const left = {...it.thing, [it.part]: without(it.thing[it.part])};
			const none = !left.oval && left.chalk.length < 3;
			e.keep(none ? remove(e.roof, 'ponds', left.id) : put(e.roof, 'ponds', left));
		}),
	});
}

function markCard(e, it) {
	const form = new Form(e.pad, e.roof.units, 'P' + it.thing.number + ', chalk mark ' + (it.index + 1));
	const at = moved(e, form, it.thing.chalk[it.index]);
	return ofPond(e, form, it, at);
}

function depthCard(e, it) {
	const known = it.index === undefined ? {at: it.at, depth: null} : it.thing.soundings[it.index];
	const form = new Form(e.pad, e.roof.units, 'Depth of water in P' + it.thing.number);
	form.note('Hold the ruler upright on the membrane.');
	const depth = form.length('Depth', {small: true, value: known.depth, must: true, least: 0});
	const at = moved(e, form, known.at);
	return ofPond(e, form, it, () => ({depth: depth(), at: at()}));
}

// pondAt returns the pond that a place lies in, or the nearest one; null where there is none.
export function pondAt(roof, at) {
	const ringOf = (p) => (p.oval ? ovalRing(p.oval) : p.chalk);
	const far = (p) => Math.min(...ringOf(p).map((q) => Math.hypot(q[0] - at[0], q[1] - at[1])));
	return roof.ponds.find((p) => insideRing(ringOf(p), at)) ?? [...roof.ponds].sort((a, b) => far(a) - far(b))[0] ?? null;
}

function slopeCard(e, it) {
	const l = it.thing;
	const form = new Form(e.pad, e.roof.units, 'Slope by a level');
	form.note('Hold the level level, one end on the roof. Measure the gap under the other end. Water runs toward the end with the gap.');
	const us = e.roof.units === 'us';
	const level = form.length('Length of the level', {value: l.level ?? (us ? 4 * 0.3048 : 1.2), must: true, least: 0});
	const gap = form.length('Gap under its end', {small: true, value: l.gap ?? null, must: true});
	const toward = form.select('Falls toward', directions.map((d) => [d, d]), l.toward ?? 'E');
	const at = moved(e, form, l.at);
	return ended(e, form, it, () => ({level: level(), gap: gap(), toward: toward(), at: at()}));
}

function photoCard(e, it) {
	const p = it.thing;
	const form = new Form(e.pad, e.roof.units, p.number ? 'Photo ' + p.number : 'Photo');
	form.box.append(photoPreview(p));
	const shows = [['', 'The roof'], ...e.roof.outlets.map((o) => [o.label, o.label]), ...e.roof.ponds.map((q) => ['P' + q.number, 'Water P' + q.number])];
	for (const f of e.findings()) if (!shows.some(([v]) => v === f.id)) shows.push([f.id, f.id + (f.text ? ': ' + f.text : '')]);
	if (p.of && !shows.some(([v]) => v === p.of)) shows.push([p.of, p.of]);
	const of = form.select('What it shows', shows, p.of ?? '');
	const toward = compassField(e, form, p.toward ?? '');
	const note = form.text('Note', p.note ?? '');
	const at = p.at ? moved(e, form, p.at) : () => null;
	return form.end({
		read: () => ({of: of(), toward: toward(), note: note(), at: at()}), cancel: () => e.shut(),
		keep: (values) => e.keepPhoto({...p, ...values}),
		take: p.id && (() => e.dropPhoto(p)),
	});
}
