// What the screen "survey" shows: the plan, the next reading, the buttons, and what the program says.

import {build, press, renew} from './build.js';
import {tools} from './tools.js';
import {thingsOf} from './sketch.js';
import {levelCard, readings} from './things.js';
import {unexported} from './roof.js';
import {photoPage} from './photos.js';
import {safety} from './outline.js';
import {canShare, download, list, share} from './share.js';

// Measure is the screen; e is the editor.
export class Measure {
	constructor(e) {
		this.e = e;
		this.canvas = build('canvas', {id: 'survey-plan', role: 'img', 'aria-label': 'Plan of the roof'});
		this.title = build('h2', {id: 'survey-title', tabindex: -1});
		this.undo = press('Undo', () => e.back('undo'));
		this.redo = press('Redo', () => e.back('redo'));
		this.off = build('p', {class: 'keep-off', text: 'Keep off the roof. Read what comes first below.', hidden: true});
		this.state = build('p', {id: 'survey-state', role: 'status'});
		this.under = build('div', {class: 'plan-row'}, this.undo, this.redo, press('+', () => e.plan.zoom(1.6), {'aria-label': 'Closer'}), press('−', () => e.plan.zoom(1 / 1.6), {'aria-label': 'Farther'}), press('Whole', () => e.plan.fit()));
		this.task = build('div', {id: 'task', hidden: true});
		this.cardBox = build('div', {id: 'card-box', hidden: true});
		this.next = build('section', {id: 'survey-next', 'aria-labelledby': 'survey-next-title'});
		this.remind = build('div', {id: 'remind'});
		this.first = build('div', {id: 'survey-first'});
		this.doubt = build('details', {});
		this.things = build('details', {id: 'things'});
		this.photos = build('div', {id: 'photo-files'});
		this.level = press('The level was moved', () => e.open(levelCard(e)), {id: 'level-moved'});
		this.rest = build('div', {id: 'survey-rest'}, this.next,
			build('section', {'aria-labelledby': 'place-title'}, build('h3', {id: 'place-title', text: 'Put on the plan'}),
				build('div', {class: 'tools'}, ...tools.map((t) => press(t.text, () => this.picked(t), {id: 'tool-' + t.id})))),
			this.remind, build('section', {'aria-labelledby': 'said-title'}, build('h3', {id: 'said-title', text: 'What is known so far'}), this.first, this.doubt),
			this.things, this.photos,
			build('div', {class: 'ways'}, press('All answers, files and papers', () => e.full(), {id: 'to-full', class: 'main'}), press('Walls, name and edges', () => e.outline()), this.level, press('The visit', () => e.visited(), {id: 'visit'}), press('Other roofs', () => e.leave())));
		this.box = build('section', {id: 'survey', hidden: true, 'aria-labelledby': 'survey-title'}, this.title, this.off,
			build('div', {id: 'survey-plan-box'}, this.canvas, this.under), this.state, this.task, this.cardBox, this.rest);
		document.querySelector('main').append(this.box);
		this.took = build('input', {type: 'file', accept: 'image/*', capture: 'environment', hidden: true, 'aria-label': 'Take a photo'});
		this.chose = build('input', {type: 'file', accept: 'image/*', hidden: true, id: 'photo-file', 'aria-label': 'Pick a photo'});
		for (const input of [this.took, this.chose]) {
			input.onchange = () => {
				if (input.files[0]) e.photographed(tools.find((t) => t.id === 'photo'), input.files[0], this.placeWanted.checked);
				input.value = '';
			};
			this.box.append(input);
		}
	}

	// blank is the screen before there is a roof.
	blank() {
		this.title.textContent = 'A new roof';
		this.off.hidden = true;
		this.state.textContent = '';
		this.canvas.parentNode.hidden = true;
	}

	// card shows a form in place of everything below the plan; null puts it away.
	card(box) {
		this.cardBox.replaceChildren(...(box ? [box] : []));
		this.cardBox.hidden = !box;
		this.rest.hidden = Boolean(box);
		this.title.hidden = Boolean(box);
		this.box.classList.toggle('carded', Boolean(box));
		this.tell('');
	}

	tell(text) {
		this.state.textContent = text;
	}

	busy(on) {
		this.page().say(on ? 'Working it out …' : 'Ready');
	}

	page() {
		return this.e.page;
	}

	// picked begins with a tool; a photo is taken first.
	picked(tool) {
		this.tell('');
		if (tool.id !== 'photo') {
			this.e.start(tool);
			return;
		}
		this.placeWanted = build('input', {type: 'checkbox', id: 'place-wanted'});
		this.rest.hidden = true;
		this.task.hidden = false;
		this.task.replaceChildren(build('p', {class: 'tap', text: 'Take or pick a photo. It stays on this device.'}),
			build('label', {class: 'tick'}, this.placeWanted, ' Keep the place (GPS) that the camera wrote'),
			build('div', {class: 'row'}, press('Take a photo', () => this.took.click(), {class: 'main'}), press('Pick one', () => this.chose.click()), press('Cancel', () => this.tasked(null))));
	}

	// tasked says what to tap; null puts that away.
	tasked(task) {
		this.task.hidden = !task;
		this.rest.hidden = Boolean(task) || !this.cardBox.hidden;
		if (!task) return;
		this.tell('');
		const e = this.e;
		const row = build('div', {class: 'row'}, press('Cancel', () => e.stop()));
		if (task.marks) {
			row.append(press('Last mark away', () => e.unmark(), {disabled: task.marks.length === 0}), press('Done', () => e.chalked(), {class: 'main'}));
		} else {
			row.append(press('By tape, without a tap', () => e.byTape()));
		}
		this.task.replaceChildren(build('p', {class: 'tap', text: task.tap}), ...(task.marks ? [build('p', {class: 'where', text: task.marks.length + (task.marks.length === 1 ? ' mark' : ' marks')})] : []), ...(task.more ? [build('p', {text: task.more})] : []), row);
		if (this.canvas.getBoundingClientRect().top < 0) this.canvas.scrollIntoView({block: 'start'});
	}

	// show writes everything but the plan anew.
	show() {
		const {e} = this;
		if (!e.history) return;
		this.canvas.parentNode.hidden = false;
		this.title.textContent = e.roof.name || 'Roof without a name';
		this.undo.disabled = !e.history.canUndo;
		this.redo.disabled = !e.history.canRedo;
		this.off.hidden = !e.answer?.picture?.keep_off;
		this.level.hidden = e.roof.heights !== 'rod' || readings(e.roof).length === 0;
		this.showNext();
		this.showReminder();
		if (this.said !== e.answer) this.showAnswer();
		if (this.listed !== e.roof) this.showThings();
		if (this.offered !== e.roof) this.showPhotos();
	}

	// showNext says the next reading in large letters.
	showNext() {
		const {e} = this;
		const head = (text) => build('h3', {id: 'survey-next-title', text});
		const roof = e.roof;
		const picture = e.answer?.picture;
		const take = () => e.take(e.next[0]);
		let lines;
		if (roof.outlets.length === 0) lines = [head('First'), build('p', {class: 'big', text: 'Put the drains and scuppers on the plan.'}), build('p', {text: safety})];
		else if (roof.ponds.length === 0 && roof.spots.length === 0) lines = [head('Next'), build('p', {class: 'big', text: 'Mark the water: tap round its edge, or give an oval. Then its depths.'}), e.next?.length > 0 ? press('No water today: take the first height', take) : null];
		else if (!e.answer || e.answer.error) lines = [head('Next'), build('p', {class: 'big', text: '…'})];
		else if (picture.keep_off) {
			lines = [head('First'), build('p', {class: 'big', text: 'Keep off the roof.'}), build('p', {class: 'where', text: picture.first.find((f) => f.steps?.length > 0)?.steps[0] ?? ''}),
				e.next.length > 0 ? press('Write a reading that was taken before: ' + e.next[0].name, take) : null];
		} else if (e.next.length > 0) {
			const n = e.next[0];
			lines = [head('Next reading' + (e.next.length > 1 ? ', ' + e.next.length + ' to go' : ', the last one')), build('p', {class: 'big', text: n.name}),
				n.where && !n.name.endsWith(n.where) ? build('p', {class: 'where', text: n.where}) : null, n.why ? build('p', {text: n.why}) : null,
				press('Write the reading', take, {class: 'main', id: 'take-next'})];
			if (e.next.length > 1) lines.push(press('Later: show the one after', () => {
				e.next.push(e.next.shift());
				e.plan.picture.next = e.next.map((w) => ({at: w.at}));
				e.plan.draw();
				this.showNext();
			}));
		} else {
			lines = [head('Next'), build('p', {class: 'big', text: 'All readings asked for are taken.'}), build('p', {text: picture.tier === 'C' ? 'More heights, with “Height”, make the figures surer.' : 'Heights all over the roof tell more: put them on with “Height”.'}),
				press('See the answer and make the papers', () => e.full(), {id: 'to-answer', class: 'main'})];
		}
		renew(this.next, lines);
	}

	// showReminder says that the roof is on this device only, until it is exported.
	showReminder() {
		const {e} = this;
		const open = unexported(e.roof);
		const text = e.kept.broken ? 'This browser keeps nothing. Save the roof file before you leave the page.' : open ? 'This roof is on this device only, and browsers clear what they keep. Save it as a file.' + (e.photos.length > 0 ? ' Its photos go with it in one file.' : '') : 'Saved as a file. Nothing has changed since.';
		const {photos} = e;
		const done = (how, file = () => e.file(), whole = photos.length === 0) => async () => {
			const {roof} = e;
			const {name, data, error} = await file();
			if (error) {
				this.tell(error);
				return;
			}
			const gone = await how(name, data);
			if (gone !== false && whole) e.exportedAs(roof);
		};
		const row = build('div', {class: 'row'}, photos.length > 0 ? press('Save roof and photos', done(download, () => e.bundle(), true), {id: 'export-all', class: open ? 'main' : ''}) : null,
			press('Save the roof file', done(download), {id: 'export', class: open && photos.length === 0 ? 'main' : ''}));
		if (canShare('roof.csv', new Uint8Array(1))) row.append(press('Share it', done((name, data) => share(name, data).catch(() => false))));
		this.remind.classList.toggle('open', open || e.kept.broken);
		renew(this.remind, [build('p', {text}), row]);
	}

	showAnswer() {
		const {answer} = this.e;
		this.said = answer;
		const full = document.getElementById('to-full');
		full.disabled = !answer || Boolean(answer.error);
		if (!answer) {
			this.first.replaceChildren(build('p', {text: '…'}));
			this.doubt.hidden = true;
			return;
		}
		if (answer.error) {
			this.first.replaceChildren(build('p', {class: 'wrong', text: plainly(answer.error)}));
			this.doubt.hidden = true;
			return;
		}
		const {picture} = answer;
		const told = picture.first.filter((f) => f.word !== 'LIMIT');
		this.first.replaceChildren(build('p', {class: 'tier', text: tierText[picture.tier]}), ...told.map(this.e.page.entry));
		const doubt = (picture.doubt ?? []).filter(Boolean);
		this.doubt.hidden = doubt.length === 0;
		this.doubt.replaceChildren(build('summary', {text: 'Not resolved, not measured'}), build('ul', {}, ...doubt.map((t) => build('li', {text: t}))));
	}

	showThings() {
		const {e} = this;
		const all = thingsOf(e.roof, e.photos);
		this.listed = e.roof;
		this.things.hidden = all.length === 0;
		const inside = build('ul', {class: 'things'});
		const fill = () => {
			if (this.things.open && inside.childNodes.length === 0) inside.append(...all.map((it) => build('li', {}, press(it.name, () => e.edit(it)))));
		};
		this.things.ontoggle = fill; // hundreds of buttons wait until somebody opens them
		this.things.replaceChildren(build('summary', {text: 'All that was put on the plan (' + all.length + ')'}), inside);
		fill();
	}

	// showPhotos offers the photos as files. What was made stays while the roof is the same: an answer to it may come after a button was pressed.
	showPhotos() {
		const {e} = this;
		this.offered = e.roof;
		this.photos.replaceChildren();
		if (e.photos.length === 0) return;
		const made = build('ul', {class: 'made'});
		const name = e.file().name.replace(/\.csv$/, '');
		const page = press('One page with all photos', async () => {
			const text = await photoPage(e.roof, e.photos, this.canvas.toDataURL('image/png'));
			list(made, [{name: name + '.photos.html', data: new TextEncoder().encode(text)}]);
		}, {id: 'photo-page'});
		const each = press('Each as a picture', async () => {
			list(made, await Promise.all(e.photos.map(async (p, i) => ({name: [name, 'photo', i + 1, p.of, p.toward].filter(Boolean).join('-') + '.jpg', data: new Uint8Array(await p.data.arrayBuffer())}))));
		});
		this.photos.append(build('h3', {text: e.photos.length === 1 ? '1 photo' : e.photos.length + ' photos'}), build('div', {class: 'row'}, page, each), made);
	}
}

// plainly leaves out of what is wrong where it stands in a file that nobody has seen.
export function plainly(error) {
	const text = error.replace(/^\S+\.csv line \d+(?: \([^)]*\))?: /, '');
	return text.charAt(0).toUpperCase() + text.slice(1);
}

const tierText = {
	A: 'Tier A: tape and ruler. A few heights will tell what holds the water.',
	B: 'Tier B: a few heights. Heights all over the roof will tell where all water runs.',
	C: 'Tier C: heights all over the roof.',
};
