// Papers for other people. The whole command line writes them in a second program, which is fetched when it is asked for the first time.

import {build, press} from './build.js';
import {Program} from './program.js';
import {newWholeWorker, whole} from './place.js';
import {list} from './share.js';

const titles = {
	'.letter.pdf': 'Letter to the client', '.engineer.pdf': 'Engineer\'s packet', '.readings.pdf': 'What to measure next', '.nextspots.csv': 'The rows for those readings', '.plumber.pdf': 'Questions to the plumber',
	'.energy.pdf': 'Questions to the energy authority', '.official.pdf': 'Questions to the building official', '.warrantor.pdf': 'Notice to the warrantor', '.scope.pdf': 'Scope and allowances', '.bids.csv': 'Form for bids', '.history.pdf': 'History of the roof',
};

// startPapers adds a button that makes all papers of the roof that is shown, and returns what puts them away. now holds its files and flags.
export function startPapers(now, target) {
	if (!whole) return () => {};
	const state = build('p', {role: 'status'});
	const made = build('ul', {class: 'made'});
	let second = null;
	const make = press('Letter to the client, engineer\'s packet and other papers', async () => {
		make.disabled = true;
		state.textContent = second ? 'The papers are being written …' : 'The second program is fetched, once. The papers are then written …';
		made.replaceChildren();
		const {files} = now;
		second ??= new Program(newWholeWorker, whole);
		const answer = await second.call('run', ['papers', ...files.map((f) => f.name), '-o', 'out', ...now.flags], files);
		make.disabled = false;
		if (answer.died) second = null;
		if (now.files !== files) return; // another roof was opened meanwhile: these papers are not of it
		const said = answer.error.replace(/^runnel: /m, '').trim();
		state.textContent = answer.error ? said : answer.files.length > 0 ? 'Read each paper before you send it.' : 'There is nothing to ask of anybody.';
		if (!answer.error) list(made, answer.files, titles);
	}, {id: 'papers'});
	target.append(build('div', {class: 'row'}, make), state, made);
	return () => {
		state.textContent = '';
		made.replaceChildren();
	};
}
