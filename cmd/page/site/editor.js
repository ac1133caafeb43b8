// The survey editor: a roof is measured on the device, and the program answers after each reading.

import {Asking} from './asking.js';
import {build, press} from './build.js';
import {Pad} from './pad.js';
import {Plan} from './plan.js';
import {History, corners, exported, file, fileName, set} from './roof.js';
import {OutlineCard} from './outline.js';
import {Kept} from './kept.js';
import {Measure, plainly} from './measure.js';
import {cardOf, inletCard, pondAt} from './things.js';
import {drawSketch, pictureOf, thingAt} from './sketch.js';
import {middleOf, wallsOf, wayTo} from './walls.js';
import {placedBy} from './tools.js';
import {bundled, keepable} from './photos.js';
import {unread} from './readings.js';
import {reread} from './reread.js';
import {visitCard} from './visit.js';

// Editor is the screen "survey". page gives what it needs of the rest: runnel (the program), check(files, flags) that shows an answer in full,
// flags() of the form, entry(e, i) that shows a part of an answer, say(text), warmed (a promise).
export class Editor {
	constructor(page) {
		this.page = page;
		this.pad = new Pad();
		this.history = null;
		this.answer = null; // the last one of this roof
		this.seen = null; // the picture of a newer one, of which only the water is known yet
		this.task = null; // what the next tap on the plan places
		this.kept = new Kept(this);
		this.measure = new Measure(this);
		this.asking = new Asking(this);
		this.plan = new Plan(this.measure.canvas);
		this.plan.over.push((plan) => this.history && drawSketch(plan, this.roof, this.photos, this.marked, this.aimed?.way));
		this.plan.over.push((plan) => this.drawn(plan));
		this.plan.ondrag = () => this.aimed && this.marked && {move: (to) => this.aimed.choose(wayTo(this.marked, to))};
		this.plan.ontap = (at, reach) => this.tapped(at, reach);
		document.addEventListener('keydown', (e) => {
			if (this.measure.box.hidden || this.card || !(e.ctrlKey || e.metaKey) || e.key.toLowerCase() !== 'z') return;
			e.preventDefault();
			this.back(e.shiftKey ? 'redo' : 'undo');
		});
		window.addEventListener('beforeunload', (e) => {
			if (this.history && this.kept.broken && this.roof.changed > this.roof.exported) e.preventDefault();
		});
	}

	get roof() {
		return this.history.roof;
	}

	get photos() {
		return this.history?.photos ?? [];
	}

	get walls() {
		return wallsOf(corners(this.roof.outline).ring);
	}

	// findings are what a photo may show, of the last answer.
	findings() {
		return (this.answer?.picture?.ponds ?? []).map((p) => ({id: p.id, text: p.where})).concat(this.answer?.picture?.findings ?? []);
	}

	// begin starts a new roof.
	begin() {
		this.history = null;
		this.answer = this.seen = null;
		this.screen(true);
		this.measure.blank();
		this.open(new OutlineCard(this).form);
	}

	// plainly says what is wrong.
	plainly(error) {
		return plainly(error);
	}

	// open shows a form in place of the buttons.
	open(form) {
		this.stop();
		this.card = form;
		this.measure.card(form.box);
		this.draw();
		form.title.focus({preventScroll: true});
	}

	// shut puts the form away.
	shut() {
		this.close();
		this.draw();
	}

	// close puts the form away where the plan is drawn afterwards.
	close() {
		this.pad.close();
		this.card = null;
		this.marked = this.aimed = null;
		this.measure.card(null);
	}

	screen(on) {
		for (const id of ['start', 'answer', 'trouble']) document.getElementById(id).hidden = true;
		document.getElementById('start').hidden = on;
		this.measure.box.hidden = !on;
		window.scrollTo(0, 0);
	}

	// leave goes back to the first screen.
	leave() {
		this.stop();
		this.pad.close();
		this.card = null;
		this.measure.card(null);
		this.screen(false);
		this.kept.list();
	}

	// resume goes on with a roof that is kept.
	async resume(roof) {
		this.history = new History(roof, await this.kept.photosOf(roof.id));
		this.answer = this.seen = null;
		this.screen(true);
		this.close();
		this.changed();
	}

	outlineKept(roof) {
		if (this.history) this.history.take(roof);
		else this.history = new History(roof);
		this.outlined = null;
		this.close();
		this.changed();
		this.measure.title.focus();
	}

	// outlineShown draws walls while they are written.
	outlineShown(ring, end) {
		this.outlined = {ring, end};
		if (!this.history) this.plan.show({units: 'si', outline: ring.length > 0 ? [ring.concat(end ? [end] : [])] : [], curbs: [], outlets: [], spots: [], water: [], ponds: [], next: []});
	}

	// keep takes a changed roof and answers anew.
	keep(roof) {
		this.history.take(roof);
		this.close();
		this.changed();
		this.measure.title.focus({preventScroll: true});
		window.scrollTo(0, 0); // the plan and the next reading
	}

	// back undoes or does again.
	back(way) {
		const before = this.photos;
		this.history[way]();
		this.kept.sync(before, this.photos);
		this.changed();
	}

	// changed keeps the roof on the device, draws it and asks the program.
	changed() {
		this.kept.save(this.roof);
		this.draw();
		this.measure.show();
		this.asking.ask();
	}

	draw() {
		if (!this.history) return;
		const picture = pictureOf(this.roof, this.answer?.picture ?? null, this.seen);
		this.next = unread(this.roof, picture.next);
		picture.next = this.roof.outlets.length > 0 && !this.task && !this.card && !this.answer?.picture?.keep_off ? this.next.map((n) => ({at: n.at})) : [];
		this.plan.chosen = picture.next.length > 0 ? 0 : -1;
		this.plan.hold = Boolean(this.task);
		this.plan.show(picture);
		this.measure.canvas.setAttribute('aria-label', 'Plan of ' + (this.roof.name || 'the roof'));
	}

	drawn(plan) {
		if (!this.task?.marks) return;
		const c = plan.context;
		c.fillStyle = c.strokeStyle = '#7A3E00';
		c.lineWidth = 3;
		c.beginPath();
		this.task.marks.forEach((p, i) => (i === 0 ? c.moveTo(...plan.at(p)) : c.lineTo(...plan.at(p))));
		c.stroke();
		for (const p of this.task.marks) {
			const [x, y] = plan.at(p);
			c.fillRect(x - 5, y - 5, 10, 10);
		}
	}

	mark(at) {
		this.marked = at;
		this.plan.draw();
	}

	// aim shows which way a photo looks; choose is told the way of an arrow that is dragged on the plan.
	aim(way, choose) {
		this.aimed = {way, choose};
		this.plan.draw();
	}

	// file is the roof as one file.
	file() {
		return {name: fileName(this.roof), data: new TextEncoder().encode(file(this.roof))};
	}

	// flags are those of the form that say nothing about files, because a roof's file says that itself.
	flags() {
		return this.page.flags().filter((f) => !/^--(units|instrument)=/.test(f));
	}

	// ask asks the program about files.
	async ask(files) {
		await this.page.warmed;
		return this.page.runnel.turn(() => this.page.runnel.call('check', files, this.flags()));
	}

	// full shows everything that was found, and the files and papers.
	async full() {
		const answer = await this.page.check([this.file()], this.flags());
		this.measure.box.hidden = true;
		if (!answer.error) this.lead('Back to measuring', () => this.screen(true));
	}

	// lead shows a button on the answer that leads to the editor.
	lead(text, onclick) {
		const button = document.getElementById('to-survey');
		Object.assign(button, {textContent: text, onclick, hidden: false});
	}

	// offer offers to go on measuring where the files that were opened are one that the page wrote. photos came with it.
	offer(files, photos = []) {
		const text = files.length === 1 ? new TextDecoder().decode(files[0].data) : '';
		const roof = reread(text);
		if (!roof) return;
		this.lead('Go on measuring this roof', async () => {
			const known = (await this.kept.all()).find((r) => file(r) === text) ?? roof;
			const here = (await this.kept.photosOf(known.id)).map((p) => p.id);
			for (const p of photos) if (!here.includes(p.id)) await this.kept.put('photos', {...p, roof: known.id});
			await this.resume(known);
		});
	}

	// start makes a tool wait for a tap on the plan.
	start(tool, more = {}) {
		if (tool.id === 'depth' && this.roof.ponds.length === 0) {
			this.measure.tell('Mark the edge of the water first: chalk or oval.');
			return;
		}
		this.task = {...tool, ...more};
		if (tool.id === 'chalk') this.task.marks = [];
		this.draw();
		this.measure.tasked(this.task);
	}

	// stop ends what waits for a tap.
	stop() {
		if (!this.task) return;
		this.task = null;
		this.measure.tasked(null);
		this.draw();
	}

	// tapped places what waits, or opens what lies there.
	tapped(at, reach) {
		if (!this.history || this.card) return;
		if (!this.task) {
			const it = thingAt(this.roof, this.photos, at, reach);
			const wanted = this.next.find((n) => Math.hypot(n.at[0] - at[0], n.at[1] - at[1]) < reach);
			if (it) this.open(cardOf(this, it));
			else if (wanted) this.take(wanted);
			return;
		}
		const place = placedBy(this.task, this.roof, this.walls, at, reach);
		if (!place) {
			this.measure.tell('That lies beside the roof. Tap inside the walls.');
			return;
		}
		this.place(place);
	}

	// place puts what waits at a place.
	place(at) {
		const {task} = this;
		if (task.marks) {
			task.marks.push(at);
			this.measure.tasked(task);
			this.plan.draw();
			return;
		}
		if (task.id === 'depth') this.open(cardOf(this, {list: 'ponds', part: 'soundings', thing: pondAt(this.roof, at), at}));
		else if (task.id === 'photo') this.open(cardOf(this, {list: 'photos', thing: {...task.photo, at}}));
		else this.open(cardOf(this, task.make(at)));
	}

	// byTape places what waits by its distances alone; they are written in the form.
	byTape() {
		this.place(middleOf(corners(this.roof.outline).ring));
	}

	// unmark takes the last chalk mark away.
	unmark() {
		this.task.marks.pop();
		this.measure.tasked(this.task);
		this.plan.draw();
	}

	// chalked ends the marks of an edge.
	chalked() {
		if (this.task.marks.length < 3) {
			this.measure.tell('The edge of the water needs three marks or more; eight make it smooth.');
			return;
		}
		this.open(cardOf(this, {list: 'ponds', thing: {chalk: this.task.marks, soundings: [], oval: null, hours: '', outlets: '', note: ''}}));
	}

	// take takes a reading that the program asked for: its field waits for the number.
	take(wanted) {
		if (wanted.kind === 'inlet') this.open(inletCard(this, wanted.outlet, wanted));
		else this.open(cardOf(this, {list: 'spots', wanted, thing: {at: wanted.at, height: null, what: wanted.what, of: wanted.of}}));
		this.card.box.querySelector('input.length')?.focus({preventScroll: true});
	}

	// photographed takes a picture that was chosen; the next tap says where it was taken.
	async photographed(tool, chosen, wantPlace) {
		let photo;
		try {
			photo = await keepable(chosen, wantPlace);
		} catch {
			this.measure.tell(chosen.name + ': this is no picture that the browser can read. Take it as JPEG.');
			return;
		}
		this.start(tool, {photo});
	}

	keepPhoto(photo) {
		const known = photo.id ? photo : {...photo, id: 'photo-' + Date.now().toString(36), roof: this.roof.id};
		this.photographs(this.photos.some((p) => p.id === known.id) ? this.photos.map((p) => (p.id === known.id ? known : p)) : [...this.photos, known]);
	}

	dropPhoto(photo) {
		this.photographs(this.photos.filter((p) => p.id !== photo.id));
	}

	// photographs takes changed photos, as a step that undo takes back.
	photographs(photos) {
		this.kept.sync(this.photos, photos);
		this.history.take(set(this.roof, {}), photos);
		this.close();
		this.changed();
	}

	// bundle returns the roof's file and its photos in one file.
	async bundle() {
		const roof = this.file();
		const made = await this.page.runnel.call('pack', await bundled(roof, this.photos));
		return {name: roof.name.replace(/\.csv$/, '.zip'), data: made.files?.[0].data, error: made.error};
	}

	// exportedAs notes that the roof as it was stands in a file.
	exportedAs(roof) {
		if (this.roof.id !== roof.id) return;
		this.history.roof = exported(this.roof, roof);
		this.kept.save(this.roof);
		this.measure.show();
	}

	// outline opens the walls.
	outline() {
		this.open(new OutlineCard(this, this.roof).form);
	}

	// visited opens what is noted on the visit.
	visited() {
		this.open(visitCard(this));
	}

	// edit opens a thing.
	edit(it) {
		this.open(cardOf(this, it));
	}
}

// startEditor adds the editor to the page.
export function startEditor(page, target) {
	const editor = new Editor(page);
	const start = press('Measure a roof now', () => editor.begin(), {id: 'measure-now'});
	target.append(start, build('div', {id: 'kept'}));
	editor.kept.list();
	return editor;
}
