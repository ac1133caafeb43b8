// A form for one thing of a roof: fields, what is wrong with them, and one button that keeps them.

import {build, press} from './build.js';
import {lengthIn} from './pad.js';
import {distanceFrom, meet, nearestWalls} from './walls.js';

// Form gathers fields. Each adder returns a function that reads its field, and notes what is wrong.
export class Form {
	constructor(pad, units, title) {
		this.pad = pad;
		this.units = units;
		this.wrong = [];
		this.ids = 0;
		this.title = build('h2', {text: title, tabindex: -1, id: 'card-title'});
		this.fault = build('p', {class: 'wrong', role: 'alert', hidden: true});
		this.box = build('form', {id: 'card', 'aria-labelledby': 'card-title', novalidate: true}, this.title, this.fault);
	}

	// note adds a line of text, large where it is what to do.
	note(text, look = '') {
		this.box.append(build('p', {text, class: look}));
	}

	// labelled adds a field under its label.
	labelled(label, field) {
		field.id = field.id || 'field-' + ++this.ids;
		const box = build('div', {class: 'field'}, build('label', {for: field.id, text: label}), field);
		this.box.append(box);
		return box;
	}

	bad(field, text) {
		this.wrong.push({field, text});
	}

	// length adds a length. least: the value must be greater; must: it may not be left empty.
	length(label, {small, signed, value = null, must = false, least} = {}) {
		const input = this.pad.field({units: this.units, small, signed, value, label});
		this.labelled(label, input);
		return () => {
			const read = lengthIn(input);
			if (Number.isNaN(read)) this.bad(input, label + ': this is no length. Write it as ' + (this.units === 'us' ? (small ? '3/4".' : '12\' 6".') : (small ? '19 mm.' : '3.81 m.')));
			else if (read === null && must) this.bad(input, label + ': fill this in.');
			else if (read !== null && least !== undefined && read <= least) this.bad(input, label + ': this must be more than nothing.');
			return read;
		};
	}

	text(label, value, {must = false, mode = 'text'} = {}) {
		const input = build('input', {type: 'text', value, inputmode: mode, autocomplete: 'off'});
		this.labelled(label, input);
		return () => {
			if (must && !input.value.trim()) this.bad(input, label + ': fill this in.');
			return input.value.trim();
		};
	}

	// choice adds large buttons of which one is pressed. options: [[value, text], ...].
	choice(label, options, value, onchange = () => {}) {
		const box = build('fieldset', {class: 'choice'}, build('legend', {text: label}));
		let chosen = value;
		const buttons = options.map(([v, text]) => press(text, () => {
			chosen = v;
			buttons.forEach((b, i) => b.setAttribute('aria-pressed', options[i][0] === chosen));
			onchange(chosen);
		}, {'aria-pressed': v === value}));
		box.append(build('div', {class: 'row'}, ...buttons));
		this.box.append(box);
		return () => chosen;
	}

	select(label, options, value) {
		const field = build('select', {}, ...options.map(([v, text]) => build('option', {value: v, text})));
		field.value = value;
		this.labelled(label, field);
		return () => field.value;
	}

	// place adds a place by its distances from two walls. onmove is told the place as it is written.
	place(walls, at, onmove = () => {}) {
		const box = build('fieldset', {class: 'place'}, build('legend', {text: 'Place, by tape from two walls'}));
		const two = nearestWalls(walls, at) ?? [walls[0], walls[1]];
		let written = at; // as long as nothing is written, the place is kept as it was
		const rows = two.map((wall, k) => {
			const name = k === 0 ? 'first wall' : 'second wall';
			const pick = build('select', {'aria-label': 'The ' + name}, ...walls.map((w) => build('option', {value: String(w.number), text: 'from ' + w.name})));
			pick.value = String(wall.number);
			return {pick, input: this.distance(wall, at, name), name};
		});
		const wallOf = (row) => walls[Number(row.pick.value) - 1];
		const read = () => {
			const [a, b] = rows;
			const far = [lengthIn(a.input), lengthIn(b.input)];
			if (far.some((d) => d === null || Number.isNaN(d))) return null;
			return meet(wallOf(a), far[0], wallOf(b), far[1]);
		};
		for (const row of rows) {
			row.box = build('div', {class: 'pair'}, row.input, row.pick);
			row.pick.onchange = () => {
				const from = this.distance(wallOf(row), written, row.name);
				row.box.replaceChild(from, row.input);
				row.input = from;
				listen(row);
			};
			box.append(row.box);
		}
		const listen = (row) => row.input.addEventListener('input', () => {
			const place = read();
			if (place) {
				written = place;
				onmove(place);
			}
		});
		rows.forEach(listen);
		this.box.append(box);
		return () => {
			for (const row of rows) {
				const d = lengthIn(row.input);
				if (d === null || Number.isNaN(d)) {
					this.bad(row.input, 'The distance from ' + wallOf(row).name + ': write it as ' + (this.units === 'us' ? '12\' 6".' : '3.81 m.'));
					return written;
				}
			}
			const place = rows.every((r) => r.input.value === r.input.lengthOf.written) ? written : read();
			if (!place) this.bad(rows[1].pick, 'The two walls run alike: take one that runs across.');
			return place ?? written;
		};
	}

	distance(wall, at, name) {
		const from = distanceFrom(wall, at);
		return this.pad.field({units: this.units, signed: from < 0, value: from, label: 'Distance from the ' + name});
	}

	// end adds the buttons. keep is called when all fields are right; it reads them by the functions above and returns what it made of them.
	end({keep, read, cancel, take, keepText = 'Keep', cancelText = 'Cancel'}) {
		const done = () => {
			this.wrong = [];
			const values = read();
			this.box.querySelectorAll('[aria-invalid]').forEach((f) => f.removeAttribute('aria-invalid'));
			this.fault.hidden = this.wrong.length === 0;
			if (this.wrong.length > 0) {
				this.fault.textContent = this.wrong.map((w) => w.text).join(' ');
				this.wrong[0].field.setAttribute('aria-invalid', 'true');
				this.wrong[0].field.focus();
				this.fault.scrollIntoView({block: 'nearest'});
				return;
			}
			this.pad.close();
			keep(values);
		};
		this.box.onsubmit = (e) => {
			e.preventDefault();
			done();
		};
		this.pad.onkeep = done;
		this.done = done;
		const row = build('div', {class: 'row ends'}, press(cancelText, () => {
			this.pad.close();
			cancel();
		}), build('button', {type: 'submit', class: 'main', text: keepText}));
		this.box.append(row);
		if (take) this.box.append(press('Take it off the roof', () => {
			this.pad.close();
			take();
		}, {class: 'take'}));
		return this;
	}
}
