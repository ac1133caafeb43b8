// What if: an outlet higher, lower or blocked, a rise taken off, a pond filled, another rain. The water on the plan moves at once.

const find = (id) => document.getElementById(id);

const rates = {us: ['1 in/h', '2 in/h', '3 in/h', '4 in/h', '6 in/h', '8 in/h'], si: ['25 mm/h', '50 mm/h', '75 mm/h', '100 mm/h', '150 mm/h', '200 mm/h']};

// Trial holds the changes that are tried on one answer. page has runnel (the program), plan, and rain(text), which checks the roof anew under a rain.
export class Trial {
	constructor(page) {
		this.page = page;
		this.changes = [];
		this.on = false;
		this.busy = false;
		find('what-if-on').onclick = () => this.turn(!this.on);
		find('what-if-undo').onclick = () => this.undo();
		find('what-if-found').onclick = () => this.compare();
		find('what-if-thing').onchange = (e) => this.choose(e.target.value);
		find('what-if-down').onclick = () => this.move(-this.step);
		find('what-if-up').onclick = () => this.move(this.step);
		find('what-if-block').onclick = () => this.add({do: 'block', outlet: this.outlet});
		find('what-if-shave').onclick = () => this.add({do: 'shave', pond: this.pond});
		find('what-if-fill').onclick = () => this.add({do: 'fill', pond: this.pond});
		find('what-if-rain').onchange = (e) => page.rain(e.target.value);
	}

	// begin takes a new answer.
	begin(picture, rain) {
		this.picture = picture;
		this.changes = [];
		this.result = null;
		this.shown = false;
		this.us = picture.units === 'us';
		this.step = this.us ? 0.0254 / 8 : 0.005;
		find('what-if').hidden = picture.tier !== 'C';
		const options = [['', 'choose one'], ...picture.outlets.map((o, i) => ['o' + i, o.label]).filter((_, i) => !picture.outlets[i].line), ...picture.ponds.map((p) => [p.id, 'pond ' + p.id])];
		find('what-if-thing').replaceChildren(...options.map(([v, t]) => this.option(v, t)));
		find('what-if-rain').replaceChildren(this.option('', 'none'), ...rates[picture.units].map((r) => this.option(r, r)));
		find('what-if-rain').value = rates[picture.units].includes(rain) ? rain : '';
		this.choose('');
		this.turn(this.on && picture.tier === 'C');
	}

	// complete takes what was still missing of the answer that was begun with.
	complete(picture) {
		this.picture = picture;
		this.show();
	}

	option(value, text) {
		const o = document.createElement('option');
		o.value = value;
		o.textContent = text;
		return o;
	}

	// turn turns trying on or off; off shows the roof as found.
	turn(on) {
		const {plan} = this.page;
		this.on = on;
		find('what-if-on').setAttribute('aria-pressed', String(on));
		find('what-if-on').textContent = on ? 'Stop trying' : 'Try changes';
		find('what-if-tools').hidden = !on;
		document.body.classList.toggle('trying', on); // the plan stays in sight
		plan.hold = on;
		plan.ontap = on ? (place, reach) => this.tap(place, reach) : () => {};
		plan.ondrag = on ? (place, reach) => this.drag(place, reach) : null;
		if (!on) this.changes = [];
		this.show();
		if (on) this.ask();
	}

	tap(place, reach) {
		const hit = this.page.plan.tap(place, reach);
		if (!hit) return;
		const value = hit.outlet !== undefined ? 'o' + hit.outlet : this.page.plan.picture.ponds[hit.pond].id;
		find('what-if-thing').value = value;
		this.choose(find('what-if-thing').value);
	}

	// drag sets the level of the outlet under the finger: a hundredth of the plan's height is one step.
	drag(place, reach) {
		const hit = this.page.plan.tap(place, reach);
		if (hit?.outlet === undefined) return null;
		find('what-if-thing').value = 'o' + hit.outlet;
		this.choose('o' + hit.outlet);
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
		this.outlet = /^o\d+$/.test(value) ? Number(value.slice(1)) : -1;
		this.pond = this.outlet < 0 ? value : '';
		find('what-if-outlet').hidden = this.outlet < 0;
		find('what-if-pond').hidden = this.pond === '';
		this.level();
	}

	// moved returns by how much an outlet is set higher [m].
	moved(outlet) {
		return this.changes.filter((c) => c.do === 'outlet' && c.outlet === outlet).reduce((sum, c) => sum + c.by, 0);
	}

	level() {
		if (this.outlet < 0) return;
		const by = this.moved(this.outlet);
		const size = this.us ? eighths(Math.abs(by)) : Math.round(Math.abs(by) * 1000) + ' mm';
		find('what-if-level').textContent = Math.abs(by) < 1e-6 ? 'as found' : size + (by < 0 ? ' lower' : ' higher');
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
		this.changes = [...this.changes, change];
		this.changed();
	}

	undo() {
		this.changes = this.changes.slice(0, -1);
		this.changed();
	}

	changed() {
		this.shown = false;
		this.level();
		this.ask();
	}

	// ask asks for the water of the present changes; while an answer is awaited only the latest question is kept.
	async ask() {
		if (this.busy) return;
		this.busy = true;
		while (this.asked !== this.changes || !this.result) {
			this.asked = this.changes;
			const began = performance.now();
			const answer = await this.page.runnel.call('try', JSON.stringify(this.asked));
			if (answer.error) {
				find('what-if-said').textContent = answer.error;
				break;
			}
			this.result = JSON.parse(answer.trial);
			if (this.asked === this.changes) this.show();
			window.runnelTried = performance.now() - began;
		}
		this.busy = false;
	}

	// compare shows the roof as found for as long as the button is pressed in.
	compare() {
		this.shown = !this.shown;
		this.show();
	}

	show() {
		const {plan} = this.page;
		const changed = this.on && this.changes.length > 0 && this.result;
		find('what-if-undo').disabled = this.changes.length === 0;
		find('what-if-found').disabled = !changed;
		find('what-if-found').setAttribute('aria-pressed', String(Boolean(changed && this.shown)));
		if (!this.picture) return;
		if (!changed || this.shown) {
			const rainy = this.on && this.picture.blocked.length > 0;
			plan.show(rainy ? {...this.picture, water: this.picture.blocked} : this.picture);
			find('what-if-said').textContent = !this.on || !this.result ? '' : rainy ? 'Shown: the water with every primary outlet blocked.' : 'As found: ' + told(this.result.found);
			return;
		}
		const blocked = new Set(this.changes.filter((c) => c.do === 'block').map((c) => c.outlet));
		plan.show({
			...this.picture, water: this.result.water, ponds: this.result.ponds,
			outlets: this.picture.outlets.map((o, i) => (blocked.has(i) ? {...o, label: o.label + ' blocked'} : o)),
		});
		const done = [this.result.dug && 'Cut up to ' + this.result.dug + '.', this.result.built && 'Built up to ' + this.result.built + ' high.'].filter(Boolean).join(' ');
		find('what-if-said').textContent = 'As found: ' + told(this.result.found) + ' Now: ' + told(this.result.now) + ' ' + done;
	}
}

function told(sum) {
	if (sum.ponds === 0) return 'no pond.';
	return sum.ponds + (sum.ponds === 1 ? ' pond, ' : ' ponds, the deepest ') + sum.depth + ', ' + sum.area + ', ' + sum.weight + ' of water.';
}

function eighths(metres) {
	const n = Math.round(metres / 0.0254 * 8);
	const rest = n % 8;
	const whole = Math.floor(n / 8);
	return (whole > 0 || rest === 0 ? whole : '') + (rest > 0 ? (whole > 0 ? '-' : '') + {1: '1/8', 2: '1/4', 3: '3/8', 4: '1/2', 5: '5/8', 6: '3/4', 7: '7/8'}[rest] : '') + '"';
}
