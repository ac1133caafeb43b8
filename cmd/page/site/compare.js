// What was tried beside the roof as found: ponds, and what runs to which outlet, as two tables.

import {build} from './build.js';

const rows = [['depth', 'Depth'], ['area', 'Area'], ['volume', 'Volume'], ['weight', 'Weight']];

// table returns a table with a column as found and one now. parts are {name, lines: [[what, found, now], ...]}.
function table(caption, parts) {
	const body = parts.flatMap(({name, lines}) => [
		build('tr', {class: 'part'}, build('th', {scope: 'colgroup', colspan: 3, text: name})),
		...lines.map(([what, found, now]) => build('tr', {}, build('th', {scope: 'row', text: what}), build('td', {text: found}), build('td', {class: found === now ? '' : 'changed', text: now}))),
	]);
	return build('table', {class: 'compared'}, build('caption', {text: caption}),
		build('thead', {}, build('tr', {}, build('td', {}), build('th', {scope: 'col', text: 'As found'}), build('th', {scope: 'col', text: 'Now'}))), build('tbody', {}, ...body));
}

// state says of a pond what became of it.
function state({id, found, now}) {
	if (!now) return id + ': gone';
	if (!found) return id + ': new';
	return same({found, now}) ? id + ': unchanged, ' + now.depth + ' deep' : id;
}

function same({found, now}) {
	return Boolean(found && now) && rows.every(([key]) => found[key] === now[key]);
}

// compared returns the tables of a trial: {compared, found, now} of answer.Trial, and runs, which may still be missing.
export function compared(trial, runs, outlets) {
	const figures = (found, now) => rows.map(([key, text]) => [text, found?.[key] || '–', now?.[key] || '–']);
	const total = {name: 'All ponds: ' + trial.found.ponds + ' as found, ' + trial.now.ponds + ' now', lines: figures(trial.found, trial.now)};
	total.lines[0][0] = 'Deepest';
	const ponds = trial.compared.map((c) => ({name: state(c), lines: same(c) ? [] : figures(c.found, c.now)}));
	const out = [table('Ponds', [total, ...ponds])];
	if (runs?.length > 0) {
		const lines = runs.map((r) => [outlets[r.outlet].label, r.found, r.now]);
		out.push(table('Roof that runs to each outlet, with every pond full', [{name: 'Area', lines}]));
	}
	return out;
}
