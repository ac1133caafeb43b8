// What if: an outlet higher, lower or blocked, a rise taken off, a cricket built, a pond filled, another rain. The water on the plan moves at once, and
// what runs to which outlet right after it.

import {compared} from './compare.js';
import {drawCrickets, endAt} from './cricket.js';
import {painted} from './frame.js';

const find = (id) => document.getElementById(id);

const rates = {us: ['1 in/h', '2 in/h', '3 in/h', '4 in/h', '6 in/h', '8 in/h'], si: ['25 mm/h', '50 mm/h', '75 mm/h', '100 mm/h', '150 mm/h', '200 mm/h']};
const slow = 150; // what comes later is not awaited to say what was done [ms]
const pause = 60; // after the water was drawn, before it is asked what runs where [ms]: what is dragged moves on first
const leastTip = 0.3; // of a cricket [m]: a narrower one is a cant strip

// Trial holds the changes that are tried on one answer. page has runnel (the program), plan, and rain(text), which checks the roof anew under a rain.
export class Trial {
	constructor(page) {
		this.page = page;
		this.changes = [];
		this.past = []; // what the changes were before each step, for undo
		this.untold = null; // the changes whose water is drawn and not yet said
		this.ends = null; // of a cricket that is being placed
		this.on = false;
		this.busy = false;
		const on = (id, what) => {
			find(id).onclick = what;
		};
		on('what-if-on', () => this.turn(!this.on));
		on('what-if-undo', () => this.undo());
		on('what-if-found', () => this.compare());
		on('what-if-down', () => this.move(-this.step));
		on('what-if-up', () => this.move(this.step));
		on('what-if-block', () => this.add({do: 'block', outlet: this.outlet}));
		on('what-if-shave', () => this.add({do: 'shave', pond: this.pond}));
		on('what-if-here', () => this.add({do: 'cricket', pond: this.pond}));
		on('what-if-fill', () => this.add({do: 'fill', pond: this.pond}));
		on('what-if-cricket', () => this.place(this.ends ? null : []));
		on('what-if-narrower', () => this.reshape({tip: -1}));
		on('what-if-wider', () => this.reshape({tip: 1}));
		on('what-if-thinner', () => this.reshape({rate: -1}));
		on('what-if-thicker', () => this.reshape({rate: 1}));
		on('what-if-away', () => this.set(this.changes.filter((_, i) => i !== this.built(this.cricket)), ''));
		find('what-if-thing').onchange = (e) => this.choose(e.target.value);
		find('what-if-rain').onchange = (e) => page.rain(e.target.value);
		page.plan.over.push((plan) => this.drawn(plan));
	}

	// begin takes a new answer.
	begin(picture, rain) {
		this.picture = picture;
		this.changes = this.good = [];
		this.past = [];
		this.asked = this.result = this.runs = this.foundRuns = null;
		this.shown = false;
		this.us = picture.units === 'us';
		this.step = this.us ? 0.0254 / 8 : 0.005;
		find('what-if').hidden = picture.tier !== 'C';
		find('what-if-rain').replaceChildren(option('', 'none'), ...rates[picture.units].map((r) => option(r, r)));
		find('what-if-rain').value = rates[picture.units].includes(rain) ? rain : '';
		this.list();
		this.choose('');
		this.turn(this.on && picture.tier === 'C');
	}

	// complete takes what was still missing of the answer that was begun with.
	complete(picture) {
		this.picture = picture;
		this.list();
		this.show();
		if (this.on && !this.runs) this.askRuns();
	}

	// list fills the list of things to change.
	list() {
		const {outlets, ponds} = this.picture;
		const chosen = find('what-if-thing').value;
		const options = [['', 'choose one'], ...outlets.map((o, i) => ['o' + i, o.label]).filter((_, i) => !outlets[i].line), ...ponds.map((p) => [p.id, 'pond ' + p.id]),
			...this.crickets().map((_, i) => ['c' + i, 'cricket ' + (i + 1)])];
		find('what-if-thing').replaceChildren(...options.map(([v, t]) => option(v, t)));
		find('what-if-thing').value = options.some(([v]) => v === chosen) ? chosen : '';
	}

	crickets() {
		return this.changes.filter((c) => c.do === 'cricket');
	}

	// built returns which of the changes a cricket is.
	built(number) {
		return this.changes.indexOf(this.crickets()[number]);
	}

	// turn turns trying on or off; off shows the roof as found.
	turn(on) {
		const {plan} = this.page;
		this.on = on;
		this.place(null);
		find('what-if-on').setAttribute('aria-pressed', String(on));
		find('what-if-on').textContent = on ? 'Stop' : 'Try changes';
		find('what-if-tools').hidden = !on;
		document.body.classList.toggle('trying', on); // the plan stays in sight
		plan.hold = on;
		plan.ontap = on ? (place, reach) => this.tap(place, reach) : () => {};
		plan.ondrag = on ? (place, reach) => this.drag(place, reach) : null;
		if (!on) {
			this.changes = this.good = [];
			this.past = [];
			this.choose('');
		}
		this.show();
		if (on) this.ask();
	}

	tap(place, reach) {
		if (this.ends) {
			this.end(place, reach);
			return;
		}
		const hit = this.page.plan.tap(place, reach);
		if (!hit) return;
		this.pick(hit.outlet !== undefined ? 'o' + hit.outlet : this.page.plan.picture.ponds[hit.pond].id);
	}

	// pick chooses a thing in the list, if it stands there.
	pick(value) {
		find('what-if-thing').value = value;
		this.choose(find('what-if-thing').value);
	}

	// drag sets the level of the outlet under the finger: ten pixels are one step.
	drag(place, reach) {
		const hit = this.ends ? null : this.page.plan.tap(place, reach);
		if (hit?.outlet === undefined) return null;
		this.pick('o' + hit.outlet);
		const {plan} = this.page;
		let done = 0;
		return {
			move: (now) => {
				const steps = Math.round((now[1] - place[1]) * plan.view.scale / 10);
				if (steps !== done) this.move((steps - done) * this.step);
				done = steps;
			},
		};
	}

	choose(value) {
		const number = (letter) => (new RegExp('^' + letter + '\\d+$').test(value) ? Number(value.slice(1)) : -1);
		this.outlet = number('o');
		this.cricket = number('c');
		this.pond = this.outlet < 0 && this.cricket < 0 ? value : '';
		find('what-if-outlet').hidden = this.outlet < 0;
		find('what-if-pond').hidden = this.pond === '';
		this.level();
		this.told();
	}

	// raised returns by how much an outlet is set higher [m].
	raised(outlet) {
		return this.changes.filter((c) => c.do === 'outlet' && c.outlet === outlet).reduce((sum, c) => sum + c.by, 0);
	}

	level() {
		if (this.outlet < 0) return;
		const by = this.raised(this.outlet);
		const size = this.us ? eighths(Math.abs(by)) : Math.round(Math.abs(by) * 1000) + ' mm';
		find('what-if-level').textContent = Math.abs(by) < 1e-6 ? 'as found' : size + (by < 0 ? ' lower' : ' higher');
	}

	// told says what the chosen cricket is.
	told() {
		const one = this.cricket < 0 ? null : this.result?.crickets[this.cricket];
		find('what-if-built').hidden = !one;
		find('what-if-built-said').textContent = one?.text ?? '';
	}

	// move sets the chosen outlet higher by a step; steps of one outlet in a row are one change.
	move(by) {
		const last = this.changes[this.changes.length - 1];
		if (last?.do === 'outlet' && last.outlet === this.outlet) {
			this.changes = [...this.changes.slice(0, -1), {...last, by: last.by + by}];
			this.changed();
		} else {
			this.add({do: 'outlet', outlet: this.outlet, by});
		}
	}

	add(change) {
		this.set([...this.changes, change]);
		if (change.do === 'cricket') {
			this.list();
			this.pick('c' + (this.crickets().length - 1));
		}
	}

	// set makes other changes the present ones, as one step for undo. chosen is what is picked of the list afterwards.
	set(changes, chosen) {
		this.past.push(this.changes);
		this.changes = changes;
		if (chosen !== undefined) {
			this.list();
			this.pick(chosen);
		}
		this.changed();
	}

	// reshape makes the chosen cricket wider by a foot (30 cm), or its boards steeper by 1/8 in per ft (1 %); or less so.
	reshape({tip = 0, rate = 0}) {
		const one = this.result?.crickets[this.cricket];
		const at = this.built(this.cricket);
		if (!one || at < 0) return;
		const step = this.us ? 1 / 96 : 0.01;
		const next = {...this.changes[at], tip: Math.max(leastTip, one.tip + tip * 0.3048), rate: Math.max(step, (Math.round(one.rate / step) + rate) * step)};
		if (tip === 0) next.tip = one.tip;
		if (rate === 0) next.rate = one.rate;
		this.set(this.changes.map((c, i) => (i === at ? next : c)));
	}

	// place waits for the two ends of a cricket; null puts that away.
	place(ends) {
		this.ends = ends;
		find('what-if-cricket').setAttribute('aria-pressed', String(Boolean(ends)));
		find('what-if-hint').textContent = !ends ? 'Tap an outlet or a pond on the plan, or choose one here. An outlet can be dragged up and down.'
			: ends.length === 0 ? 'Tap one end of the cricket\'s long side: an outlet, a corner of a curb, or a place on a wall.' : 'Now tap its other end.';
		this.page.plan.draw();
	}

	// end takes an end of a cricket; the second one builds it.
	end(place, reach) {
		const ends = [...this.ends, endAt(this.picture, place, reach)];
		this.place(ends.length < 2 ? ends : null);
		if (ends.length === 2) this.add({do: 'cricket', base: ends});
	}

	undo() {
		this.changes = this.past.pop() ?? [];
		this.list();
		this.choose(find('what-if-thing').value);
		this.changed();
	}

	changed() {
		this.shown = false;
		setTimeout(() => this.level(), slow); // else it is said with the water
		this.ask();
	}

	// ask asks for the water of the present changes, and for what runs where once the finger rests; while an answer is awaited only the latest question is kept.
	async ask() {
		if (this.busy) return;
		this.busy = true;
		while (this.on && (this.asked !== this.changes || !this.result)) {
			this.asked = this.changes;
			const began = performance.now();
			const answer = await this.page.runnel.call('try', JSON.stringify(this.asked));
			if (answer.error) {
				this.refuse(answer.error);
				break;
			}
			this.good = this.asked;
			this.result = JSON.parse(answer.trial);
			this.runs = null;
			window.runnelTried = performance.now() - began;
			if (this.asked === this.changes) this.moved(this.asked);
		}
		this.busy = false;
	}

	// moved shows the water after changes: first on the plan, then in words, then what runs where once the finger rests.
	async moved(of) {
		this.untold = of;
		this.draw();
		await painted();
		if (this.untold !== of || this.changes !== of) return;
		this.untold = null;
		this.tell();
		clearTimeout(this.later);
		this.later = setTimeout(() => this.askRuns(), pause);
	}

	// askRuns asks what runs to which outlet after what was tried last. Before all of the answer is there nobody knows, and complete asks again.
	async askRuns() {
		const of = this.asked;
		if (!this.on || of !== this.changes) return;
		const answer = await this.page.runnel.call('runs');
		if (answer.error || of !== this.changes) return;
		this.runs = JSON.parse(answer.runs);
		if (of.length === 0) this.foundRuns = this.runs;
		this.show();
	}

	// refuse says why the last change cannot be tried, and takes it back.
	refuse(error) {
		this.untold = null;
		if (this.changes !== this.good) {
			this.past.pop();
			this.changes = this.good;
		}
		this.asked = this.changes;
		this.list();
		this.choose(find('what-if-thing').value);
		this.show();
		find('what-if-said').textContent = error.charAt(0).toUpperCase() + error.slice(1) + (error.endsWith('.') ? '' : '.');
	}

	// compare shows the roof as found for as long as the button is pressed in.
	compare() {
		this.shown = !this.shown;
		this.show();
	}

	show() {
		this.draw();
		this.tell();
	}

	// altered reports whether there is a changed roof to show.
	altered() {
		return this.on && this.changes.length > 0 && Boolean(this.result);
	}

	// rainy reports whether the roof as found is shown under a rain.
	rainy() {
		return this.on && this.picture.blocked.length > 0;
	}

	// draw draws the roof as changed, or as found.
	draw() {
		const {plan} = this.page;
		if (!this.picture) return;
		if (!this.altered() || this.shown) {
			plan.show({...this.picture, runs: this.on ? this.foundRuns : null, water: this.rainy() ? this.picture.blocked : this.picture.water});
			return;
		}
		const blocked = new Set(this.changes.filter((c) => c.do === 'block').map((c) => c.outlet));
		plan.show({
			...this.picture, water: this.result.water, ponds: this.result.ponds, runs: this.runs,
			outlets: this.picture.outlets.map((o, i) => (blocked.has(i) ? {...o, label: o.label + ' blocked'} : o)),
		});
	}

	// tell says what was done and what came of it.
	tell() {
		const changed = this.altered();
		find('what-if-undo').disabled = this.past.length === 0;
		find('what-if-found').disabled = !changed;
		find('what-if-found').setAttribute('aria-pressed', String(changed && this.shown));
		if (!this.picture) return;
		this.level();
		this.told();
		find('what-if-compared').replaceChildren(...(this.on && this.result ? compared(this.result, this.runs, this.picture.outlets) : []));
		const {result} = this;
		if (!changed || this.shown) {
			find('what-if-said').textContent = !this.on || !result ? '' : this.rainy() ? 'Shown: the water with every primary outlet blocked.' : 'As found: ' + told(result.found);
			return;
		}
		const done = [result.dug && 'Cut up to ' + result.dug + '.', result.built && 'Built up to ' + result.built + ' high.'].filter(Boolean).join(' ');
		find('what-if-said').textContent = 'As found: ' + told(result.found) + '\nNow: ' + told(result.now) + ' ' + done;
	}

	// drawn draws crickets on the plan, and the end of one that is being placed.
	drawn(plan) {
		if (this.on) drawCrickets(plan, this.shown ? [] : this.result?.crickets ?? [], this.ends ?? []);
	}
}

function option(value, text) {
	const o = document.createElement('option');
	o.value = value;
	o.textContent = text;
	return o;
}

function told(sum) {
	if (sum.ponds === 0) return 'no pond.';
	return sum.ponds + (sum.ponds === 1 ? ' pond, ' : ' ponds, the deepest ') + sum.depth + ', ' + sum.area + ', ' + sum.volume + ', ' + sum.weight + '.';
}

function eighths(metres) {
	const n = Math.round(metres / 0.0254 * 8);
	const rest = n % 8;
	const whole = Math.floor(n / 8);
	return (whole > 0 || rest === 0 ? whole : '') + (rest > 0 ? (whole > 0 ? '-' : '') + {1: '1/8', 2: '1/4', 3: '3/8', 4: '1/2', 5: '5/8', 6: '3/4', 7: '7/8'}[rest] : '') + '"';
}
