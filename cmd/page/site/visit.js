// The visit: what is noted on the roof beside its measurements. It goes into the roof's file as a row VISIT, and from there into letters and questions.

import {Form} from './form.js';
import {set, visitNames} from './roof.js';

const asked = {
	surveyed: ['Date, such as 2026-03-14'], surveyed_by: ['Who is here'], weather: ['Weather'], hours_since_rain: ['Hours since the rain', /^\d+(\.\d+)?$/, 'a number, such as 48'],
	instrument: ['Instrument, such as level'], age_years: ['Age of the roof in years', /^\d+(\.\d+)?$/, 'a number, such as 15'],
	coverings: ['Coverings that lie on each other', /^[1-9]\d?$/, 'count them, the uppermost too: 1, 2 …'], leaks: ['Leaks inside, where and when'],
	warrantor: ['Who warrants the roof'], warranty_until: ['Warranty until'], access: ['How people get up, and who lets them'], cuts_authorised_by: ['Who may authorise a cut'],
};

// visitCard returns the form of the visit. Everything may stay empty.
export function visitCard(e) {
	const now = e.roof.visit ?? {};
	const form = new Form(e.pad, e.roof.units, 'The visit');
	form.note('What nobody knows stays empty. Water counts as a pond when it stands 48 hours after rain.');
	const today = new Date().toLocaleDateString('sv'); // year, month, day
	const reads = visitNames.map((name) => {
		const [label, form1, mend] = asked[name];
		const read = form.text(label, now[name] ?? (name === 'surveyed' ? today : ''), {mode: form1 ? 'decimal' : 'text'});
		const field = form.box.lastChild.querySelector('input');
		return [name, () => {
			const text = form1 ? read().replace(',', '.') : read();
			if (text && form1 && !form1.test(text)) form.bad(field, label + ': ' + mend + '.');
			return text;
		}];
	});
	return form.end({
		read: () => Object.fromEntries(reads.map(([name, read]) => [name, read()]).filter(([, text]) => text)),
		cancel: () => e.shut(), keep: (visit) => e.keep(set(e.roof, {visit})),
	});
}
