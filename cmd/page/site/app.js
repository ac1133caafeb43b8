// The page: opens files, shows the answer, and makes the files that are asked for.

import {Program} from './program.js';
import {Plan} from './plan.js';
import {lifted} from './finger.js';
import {painted} from './frame.js';
import {program, newWorker, single, example, keepOnDevice} from './place.js';
import {sample} from './roof.js';
import {list} from './share.js';
import {startEditor} from './editor.js';
import {startPapers} from './papers.js';
import {unbundled} from './photos.js';
import {Trial} from './whatif.js';

const find = (id) => document.getElementById(id);
const show = (id, on) => {
	find(id).hidden = !on;
};

// element makes an element with a text.
function element(tag, text, name) {
	const e = document.createElement(tag);
	if (text !== undefined) e.textContent = text;
	if (name) e.className = name;
	return e;
}

const states = {loading: 'Starting …', ready: 'Ready', died: 'Stopped; starting again …'};
const runnel = new Program(newWorker, program);
const plan = new Plan(find('plan'));
const exercises = 16; // after them little is compiled any more
const now = {files: [], flags: [], answer: null, spot: 0};

const trial = new Trial({runnel, plan, rain: (text) => check(now.files, [...now.flags.filter((f) => !f.startsWith('--rain-')), ...(text ? ['--rain-primary=' + text, '--rain-overflow=' + text] : [])])});

runnel.onstate = (state) => say(states[state]);
say(states.loading);

function say(text) {
	find('state').textContent = text;
}

// warm checks the invented roof and tries a change, as soon as the program stands: a browser compiles what is called for the first time.
async function warm() {
	const began = performance.now();
	const roof = await example();
	let done = await runnel.call('glance', [roof], []);
	if (!done.error) done = await runnel.call('complete');
	if (!done.error) await runnel.call('try', '[{"do":"block","outlet":0}]');
	if (!done.error) await runnel.call('runs');
	window.runnelWarm = {ms: performance.now() - began, error: done.error};
	if (!done.died) say(states.ready);
	exercise(roof);
}

// exercise works out a roof like those that are measured here, and the invented roof, a few times more, until somebody asks for anything: what is called often a
// browser compiles once more, for speed, and takes the processor for that from what is waited for.
async function exercise(roof) {
	let turns = 0;
	for (let i = 0; i < exercises; i++) {
		for (const given of [['glance', [i % 4 === 3 ? roof : sample()], []], ['complete'], ['try', '[{"do":"outlet","outlet":0,"by":-0.01}]'], ['runs']]) {
			if (runnel.turns !== turns) break;
			turns++;
			await runnel.turn(() => runnel.call(...given));
		}
	}
	window.runnelExercised = true;
}

const warmed = warm();

// flags are what the form says about the files.
function flags() {
	const out = [];
	for (const name of ['units', 'instrument', 'units-out']) {
		if (find(name).value) out.push('--' + name + '=' + find(name).value);
	}
	const rain = find('rain').value.trim();
	if (rain) out.push('--rain-primary=' + rain, '--rain-overflow=' + rain);
	return out;
}

// check checks files and shows the answer, or what is wrong with them: first the water, then all the rest.
export async function check(files, given = flags()) {
	const turn = {};
	now.turn = turn;
	await warmed;
	return runnel.turn(async () => {
		say('Working it out …');
		const first = await runnel.call('glance', files, given);
		if (first.error) {
			say(first.died ? states.died : states.ready);
			trouble(first);
			return first;
		}
		Object.assign(now, {files, flags: given, answer: {picture: JSON.parse(first.picture)}, spot: 0});
		showAnswer(now.answer.picture);
		await painted(); // the program would take the processor from the painter
		const answer = await runnel.call('complete');
		if (now.turn !== turn) return answer; // another roof was opened meanwhile
		say(answer.died ? states.died : states.ready);
		if (answer.error) {
			trouble(answer);
			return answer;
		}
		answer.picture = JSON.parse(answer.picture);
		await lifted();
		now.answer = answer;
		showRest(answer);
		return answer;
	});
}

function trouble(answer) {
	show('survey', false);
	show('start', false);
	show('answer', false);
	show('trouble', true);
	find('trouble-title').textContent = answer.fault ? 'The program made a mistake' : 'These files cannot be used as they are';
	find('trouble-text').textContent = answer.error + (answer.fault ? '\n\nNothing was written. The fault is the program\'s, not that of the files.' : '');
	find('trouble-title').focus();
}

function back() {
	show('trouble', false);
	show('answer', false);
	show('start', true);
	find('start-title').focus?.();
}

function showAnswer(picture) {
	show('survey', false);
	show('to-survey', false);
	show('start', false);
	show('trouble', false);
	show('answer', true);
	find('answer-title').textContent = picture.heading;
	show('keep-off', picture.keep_off);
	plan.chosen = -1;
	trial.begin(picture, now.flags.find((f) => f.startsWith('--rain-overflow='))?.slice(16) ?? '');
	find('plan').setAttribute('aria-label', 'Plan of the roof. ' + (picture.first[0]?.texts ?? []).join(' '));
	find('key').replaceChildren(...picture.water.map((b) => {
		const one = element('span', b.name);
		const box = element('i');
		box.style.background = 'rgb(' + [43, 57, 130].map((c) => Math.round(255 - (255 - c) * b.strength)).join(',') + ')';
		one.prepend(box);
		return one;
	}));
	tell(picture);
	show('warnings', false);
	find('text').textContent = '';
	find('file-buttons').querySelectorAll('button').forEach((b) => {
		b.disabled = true;
		b.hidden = picture.tier !== 'C' && b.dataset.kind === 'report'; // of a roof by tape the papers are what there is to read
	});
	find('made').replaceChildren();
	clearPapers();
	find('file-state').textContent = '';
	find('answer-title').focus();
	window.scrollTo(0, 0);
}

// tell shows what is said of a picture.
function tell(picture) {
	find('first').replaceChildren(...picture.first.map(entry));
	ponds(picture);
	lines('doubt', picture.doubt);
	show('next', picture.next?.length > 0);
	if (picture.next?.length > 0) spot(0, true);
}

// showRest shows what came later than the plan.
function showRest({picture, text, warnings}) {
	trial.complete(picture);
	tell(picture);
	find('file-buttons').querySelectorAll('button').forEach((b) => {
		b.disabled = false;
	});
	find('warnings').hidden = warnings.length === 0;
	find('warning-list').replaceChildren(...warnings.map((w) => element('li', w)));
	find('text').textContent = text;
}

function entry(e, i) {
	const box = element('div', undefined, 'entry' + (i === 0 ? ' lead' : '') + (e.word === 'NEXT' ? ' next' : ''));
	box.append(element('b', e.word));
	if (e.steps?.length) {
		const all = element('ol');
		all.start = e.start || 1;
		all.append(...e.steps.map((s) => element('li', s)));
		box.append(all);
	}
	for (const t of e.texts ?? []) box.append(element('p', t));
	return box;
}

function lines(id, texts) {
	const told = (texts ?? []).filter(Boolean);
	show(id, told.length > 0);
	find(id + '-list').replaceChildren(...told.map((t) => element('li', t)));
}

function ponds(picture) {
	show('ponds', picture.ponds?.length > 0);
	find('pond-list').replaceChildren(...(picture.ponds ?? []).map((p) => {
		const item = element('li');
		const button = element('button', [p.id, p.depth && p.depth + ' deep'].filter(Boolean).join(': '));
		button.onclick = () => {
			plan.fit();
			plan.zoom(3);
			const [x, y] = plan.at(p.at);
			plan.view = {...plan.view, x: plan.view.x + plan.width / 2 - x, y: plan.view.y + plan.height / 2 - y};
			plan.draw();
			find('plan-box').scrollIntoView({block: 'start'});
		};
		item.append(button, element('p', p.where), element('p', [p.area, p.volume, p.weight, p.load].filter(Boolean).join(', ')));
		if (p.held) item.append(element('p', p.held));
		if (p.sure) item.append(element('p', 'How sure: ' + p.sure));
		return item;
	}));
}

// spot shows one of the spots to take, large.
function spot(i, quiet) {
	const all = now.answer.picture.next;
	if (all.length === 0) return;
	now.spot = (i + all.length) % all.length;
	const n = all[now.spot];
	find('next-title').textContent = 'Next spot to take: ' + (now.spot + 1) + ' of ' + all.length;
	const taped = now.answer.picture.tier !== 'C'; // then for is the code of the row that takes the reading
	const large = taped ? n.why : n.for + ': ' + n.where;
	find('next-where').textContent = large.charAt(0).toUpperCase() + large.slice(1);
	find('next-why').textContent = taped ? n.where : n.why;
	if (!quiet) plan.chosen = now.spot;
	plan.draw();
}

const kinds = [['report', 'Report'], ['plan', 'Plan'], ['geojson', 'Map (GeoJSON)'], ['json', 'Figures (JSON)']];

// make makes files of one kind and lists them.
async function make(kind, name) {
	find('file-state').textContent = name + ' is being made …';
	const made = await runnel.call('write', [kind]);
	if (made.error) {
		find('file-state').textContent = made.error;
		return;
	}
	find('file-state').textContent = made.files.length ? '' : 'There is no such file of a roof by tape alone: heights all over the roof are needed.';
	list(find('made'), made.files);
}

async function take(chosen) {
	const files = await Promise.all([...chosen].map(async (f) => ({name: f.name, data: new Uint8Array(await f.arrayBuffer())})));
	if (files.length === 0) return;
	let bundle = {files, photos: []};
	if (files.length === 1 && /\.zip$/i.test(files[0].name)) {
		await warmed;
		const out = await runnel.call('unpack', files);
		if (out.error) {
			trouble(out);
			return;
		}
		bundle = unbundled(out.files);
	}
	const answer = await check(bundle.files);
	if (!answer.error) editor.offer(bundle.files, bundle.photos);
}

function begin() {
	for (const [kind, name] of kinds) {
		const b = element('button', name);
		b.onclick = () => make(kind, name);
		b.dataset.kind = kind;
		find('file-buttons').append(b);
	}
	for (const name of ['level', 'total-station', 'laser', 'gnss', 'photogrammetry']) {
		const o = element('option', name.replace(/-/g, ' '));
		o.value = name;
		find('instrument').append(o);
	}
	find('open').onclick = () => find('files').click();
	find('files').onchange = (e) => {
		take(e.target.files).finally(() => {
			e.target.value = '';
		});
	};
	find('try').onclick = async () => check([await example()]);
	find('again').onclick = find('trouble-back').onclick = back;
	find('next-on').onclick = () => spot(plan.chosen < 0 ? now.spot : now.spot + 1);
	find('next-back').onclick = () => spot(now.spot - 1);
	find('closer').onclick = () => plan.zoom(1.6);
	find('away').onclick = () => plan.zoom(1 / 1.6);
	find('whole').onclick = () => plan.fit();
	document.addEventListener('dragover', (e) => {
		e.preventDefault();
		find('drop').classList.add('over-it');
	});
	document.addEventListener('dragleave', () => find('drop').classList.remove('over-it'));
	document.addEventListener('drop', (e) => {
		e.preventDefault();
		find('drop').classList.remove('over-it');
		take(e.dataTransfer.files);
	});
	show('file-limits', single);
	keepOnDevice();
}

const clearPapers = startPapers(now, find('papers-box'));
const editor = startEditor({runnel, check, flags, entry, say, warmed}, find('extra'));
begin();

// for tests and the browser's console
window.runnelPage = {check, runnel, plan, now, editor, trial};
