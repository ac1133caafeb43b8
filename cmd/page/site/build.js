// Elements of the page, made in one call each.

// build makes an element. given are its attributes; "text" is its text, "onclick" and the like are listeners, true and false set or leave out.
export function build(tag, given = {}, ...inside) {
	const e = document.createElement(tag);
	for (const [name, value] of Object.entries(given)) {
		if (value === undefined || value === null || (value === false && !name.startsWith('aria-'))) continue;
		if (name.startsWith('aria-')) e.setAttribute(name, String(value));
		else if (name === 'text') e.textContent = value;
		else if (name === 'value') e.value = value;
		else if (name.startsWith('on')) e[name] = value;
		else e.setAttribute(name, value === true ? '' : value);
	}
	e.append(...inside.filter((i) => i !== null && i !== undefined));
	return e;
}

// renew puts other elements into a box. Where they are the same as those that are in it these stay, with the finger or the focus that is on one.
export function renew(box, inside) {
	const fresh = build('div', {}, ...inside);
	if (box.innerHTML !== fresh.innerHTML) box.replaceChildren(...fresh.childNodes);
}

// press makes a button.
export function press(text, onclick, given = {}) {
	return build('button', {type: 'button', text, onclick, ...given});
}
