// The next reading: which of the spots that the program asks for comes next, and what it becomes in the roof.

// wantedOf returns what a spot asks for: {name and where, said large; kind: 'inlet' | 'spot'; outlet, or what and of}. n is a spot of the plan's picture.
export function wantedOf(roof, n) {
	const [word, ...rest] = n.for.split(' ');
	const of = rest.join(' ').replace(/^of=/, '').replace(/"/g, '');
	const asked = {at: n.at, where: capital(n.where), why: '', kind: 'spot', what: '', of: ''};
	const outlet = roof.outlets.find((o) => o.label === of);
	if (word === 'INLET' && outlet) return {...asked, name: capital(n.why), kind: 'inlet', outlet};
	if (word === 'LOW' || word === 'LIP') return {...asked, name: capital(n.why), what: word.toLowerCase(), of};
	if (word === 'BEFORE') return {...asked, name: capital(n.why), what: outlet ? 'before' : '', of: outlet ? of : ''};
	if (word === 'SPOT' || word === 'INLET') return {...asked, name: capital(n.why)};
	return {...asked, name: capital(n.for) + ': ' + n.where, where: '', why: n.why};
}

// unread returns the spots that are asked for and not read yet, in walking order.
export function unread(roof, next) {
	const near = 0.15; // m: a tape gives a place no better
	return next.map((n) => wantedOf(roof, n)).filter((w) => {
		if (w.kind === 'inlet') return w.outlet.height === null || w.outlet.height === undefined;
		return !roof.spots.some((s) => s.height !== null && Math.hypot(s.at[0] - w.at[0], s.at[1] - w.at[1]) < near);
	});
}

// capital begins a text with a capital letter, where it begins with a small one.
function capital(text) {
	return text.charAt(0).toUpperCase() + text.slice(1);
}
