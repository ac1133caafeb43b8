// The first screen of a roof: its name, its units, and its walls by tape.

import {build, press} from './build.js';
import {Form} from './form.js';
import {lengthIn} from './pad.js';
import {complete, corners, directions, file, fileName, newRoof, set} from './roof.js';
import {formatLength} from './length.js';

const edgeKinds = [['wall', 'Wall or parapet'], ['gutter', 'Gutter'], ['free', 'Free edge: water runs over'], ['', 'Not known yet']];

// safety is what is read before anything is measured.
export const safety = 'Keep off where water is deep, or where the roof feels soft or sags. Measure from dry ground. Mind edges, hatches and skylights. Do not work alone.';

// OutlineCard asks for the walls of a roof. It is made anew when units or shape change, and keeps what was written.
export class OutlineCard {
	constructor(e, roof) {
		this.e = e;
		this.fresh = !roof;
		const us = /^en(-(US|CA))?$/.test(navigator.language);
		this.roof = roof ?? newRoof(us ? 'us' : 'si');
		this.walls = roof?.outline?.kind === 'walls' ? roof.outline.walls.map((w) => ({...w})) : [];
		this.kind = roof?.outline?.kind ?? 'rect';
		this.edges = new Map((roof?.edges ?? []).map((x) => [x.wall, x.type]));
		this.edge = roof?.edge || (roof ? '' : 'wall');
		this.make();
	}

	// make builds the form.
	make() {
		const r = this.roof;
		const form = new Form(this.e.pad, r.units, this.fresh ? 'A new roof' : 'Walls of the roof');
		this.form = form;
		if (this.fresh) form.note(safety, 'safety');
		const again = (change) => (value) => {
			this.roof = {...this.roof, name: name(), heights: heights()};
			this.edge = edge();
			change(value);
			const old = this.form.box;
			this.make();
			old.replaceWith(this.form.box);
		};
		const name = form.text('Name of the roof', r.name);
		const blank = this.fresh || (r.spots.length === 0 && r.outlets.length === 0);
		if (blank) form.choice('Measure in', [['us', 'Feet and inches'], ['si', 'Metres']], r.units, again((v) => {
			this.roof = {...this.roof, units: v};
		}));
		const heights = form.choice('Heights are', [['rod', 'Rod readings, one set-up'], ['elevation', 'Elevations']], r.heights);
		form.choice('Shape', [['rect', 'Rectangle'], ['walls', 'Walls one after another']], this.kind, again((v) => {
			this.kind = v;
		}));
		form.note('Call one side north and keep to it.');
		const outline = this.kind === 'rect' ? this.rectangle(form) : this.traverse(form);
		const edge = form.select('Its edges are', edgeKinds, this.edge);
		this.ownEdges(form);
		form.end({
			keepText: this.fresh ? 'Start measuring' : 'Keep',
			read: () => ({name: name(), heights: heights(), outline: outline(), edge: edge()}),
			cancel: () => (this.fresh ? this.e.leave() : this.e.shut()),
			keep: (values) => this.keep(values),
		});
		if (this.kind === 'walls') this.closing();
	}

	rectangle(form) {
		const o = this.roof.outline?.kind === 'rect' ? this.roof.outline : {east: null, north: null};
		const east = form.length('Long from west to east', {value: o.east, must: true, least: 0});
		const north = form.length('Long from south to north', {value: o.north, must: true, least: 0});
		return () => ({kind: 'rect', east: east(), north: north()});
	}

	traverse(form) {
		form.note('Start at a corner. Walk along the walls all the way round. Tape each wall.');
		this.list = build('ol', {class: 'walls'});
		form.box.append(this.list);
		if (this.walls.length === 0) this.walls = ['E', 'N', 'W', 'S'].map((toward) => ({toward, length: null}));
		this.rows = [];
		this.walls.forEach((w, i) => this.wallRow(form, w, i));
		this.said = build('p', {class: 'closing', role: 'status'});
		form.box.append(build('div', {class: 'row'}, press('One more wall', () => this.more()), press('One wall less', () => this.less())), this.said);
		return () => {
			const walls = this.readWalls();
			this.rows.forEach((r, i) => {
				if (!(walls[i].length > 0)) form.bad(r.input, 'Wall ' + (i + 1) + ': write its length.');
			});
			return {kind: 'walls', walls};
		};
	}

	wallRow(form, w, i) {
		const input = form.pad.field({units: this.roof.units, value: w.length, label: 'Length of wall ' + (i + 1)});
		const pick = build('select', {'aria-label': 'Wall ' + (i + 1) + ' runs toward'}, ...directions.map((d) => build('option', {value: d, text: 'toward ' + d})));
		pick.value = w.toward;
		pick.onchange = () => this.closing();
		input.addEventListener('input', () => this.closing());
		this.rows.push({input, pick});
		this.list.append(build('li', {}, build('b', {text: String(this.rows.length)}), input, pick));
	}

	readWalls() {
		return this.rows.map(({input, pick}) => ({toward: pick.value, length: lengthIn(input)}));
	}

	more() {
		this.walls.push({toward: 'E', length: null});
		this.wallRow(this.form, this.walls[this.walls.length - 1], this.walls.length - 1);
		this.closing();
	}

	less() {
		if (this.rows.length <= 3) return;
		this.walls.pop();
		this.rows.pop();
		this.list.lastChild.remove();
		this.closing();
	}

	// closing says whether the walls close, and shows them on the plan.
	closing() {
		const walls = this.readWalls();
		const read = walls.filter((w) => w.length > 0);
		const {ring, end, misclosure, allowed} = corners({kind: 'walls', walls: read});
		this.e.outlineShown(ring, end);
		const u = this.roof.units;
		if (read.length < walls.length) this.said.textContent = 'Wall ' + (walls.findIndex((w) => !(w.length > 0)) + 1) + ' is still to be taped.';
		else if (misclosure > allowed) this.said.textContent = 'The walls miss closing by ' + formatLength(misclosure, u) + '.';
		else this.said.textContent = misclosure < 0.001 ? 'The walls close.' : 'The walls close to ' + formatLength(misclosure, u) + ', which is shared out.';
	}

	// ownEdges lets single walls be of another kind.
	ownEdges(form) {
		const more = build('details', {class: 'own-edges'}, build('summary', {text: 'Some walls are of another kind'}));
		const names = this.kind === 'rect' ? ['1: south', '2: east', '3: north', '4: west'] : this.walls.map((_, i) => String(i + 1));
		names.forEach((n, i) => {
			const pick = build('select', {'aria-label': 'Edge at wall ' + n}, build('option', {value: '-', text: 'as all'}), ...edgeKinds.slice(0, 3).map(([v, t]) => build('option', {value: v, text: t})));
			pick.value = this.edges.get(i + 1) ?? '-';
			pick.onchange = () => (pick.value === '-' ? this.edges.delete(i + 1) : this.edges.set(i + 1, pick.value));
			more.append(build('div', {class: 'pair'}, build('span', {text: 'Wall ' + n}), pick));
		});
		more.open = this.edges.size > 0;
		form.box.append(more);
	}

	// keep takes the outline, or says which wall one slip may have spoilt, in the words of the program.
	async keep(values) {
		const many = values.outline.kind === 'rect' ? 4 : values.outline.walls.length;
		const edges = [...this.edges].filter(([wall]) => wall <= many).map(([wall, type], i) => ({id: 'e' + (i + 1), wall, type}));
		const roof = set(this.roof, {...values, edges});
		if (complete(roof)) {
			this.e.outlineKept(roof);
			return;
		}
		const answer = await this.e.ask([{name: fileName(roof), data: new TextEncoder().encode(file(roof))}]);
		this.form.fault.textContent = answer.error ? this.e.plainly(answer.error) : 'The walls do not close.';
		this.form.fault.hidden = false;
		this.form.fault.scrollIntoView({block: 'center'});
	}
}
