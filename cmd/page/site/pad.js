// A number pad for gloves: feet, inches and eighths, or metres and millimetres. A keyboard writes into the same fields.

import {build} from './build.js';
import {parseLength, formatLength, formatDepth} from './length.js';

const eighthKeys = {'⅛': '1/8', '¼': '1/4', '⅜': '3/8', '½': '1/2', '⅝': '5/8', '¾': '3/4', '⅞': '7/8'};
const eighthNames = {'⅛': '1 eighth', '¼': '1 quarter', '⅜': '3 eighths', '½': '1 half', '⅝': '5 eighths', '¾': '3 quarters', '⅞': '7 eighths'};

// pressed returns what a field holds after a key: a digit, a mark, '⌫', or an eighth of an inch, which takes the place of one that is there.
export function pressed(text, key) {
	if (key === '⌫') return text.trimEnd().replace(/(?:[- ]?\d\/\d"?|\s*m?m|.)$/, '').trimEnd();
	if (key === '−') return text.startsWith('-') ? text.slice(1) : '-' + text;
	if (key === '\'') return text.trimEnd().replace(/['"]+$/, '') + '\' ';
	if (key === '"') return text.trimEnd().replace(/"$/, '') + '"';
	if (key === 'm' || key === 'mm') return text.trimEnd().replace(/\s*m?m$/, '') + ' ' + key;
	if (eighthKeys[key]) {
		const whole = text.trimEnd().replace(/"$/, '').replace(/[- ]?\d\/\d$/, '');
		return whole + (/\d$/.test(whole) ? '-' : /'$/.test(whole) ? ' ' : '') + eighthKeys[key] + '"';
	}
	return text + key;
}

// Pad stands at the foot of the screen while a field of a length is written.
export class Pad {
	constructor() {
		this.input = null;
		this.onkeep = () => {}; // the key "Keep"
		this.said = build('p', {class: 'pad-said', 'aria-live': 'polite'});
		this.keys = build('div', {class: 'pad-keys'});
		this.box = build('div', {id: 'pad', role: 'group', 'aria-label': 'Number pad', hidden: true}, this.said, this.keys);
		this.box.addEventListener('pointerdown', (e) => e.preventDefault()); // the field keeps the focus
		document.body.append(this.box);
	}

	// field makes an input for a length. small: of depths and gaps, in inches or millimetres where no unit is said.
	field({units, small = false, signed = false, value = null, label}) {
		const write = small ? formatDepth : formatLength;
		const input = build('input', {type: 'text', inputmode: 'none', autocomplete: 'off', 'aria-label': label, class: 'length', value: value === null ? '' : write(value, units)});
		input.lengthOf = {units, small, signed, written: input.value, value};
		input.addEventListener('focus', () => this.open(input));
		input.addEventListener('blur', () => setTimeout(() => this.input === input && document.activeElement !== input && this.close(), 0));
		input.addEventListener('input', () => this.say());
		input.addEventListener('keydown', (e) => {
			if (e.key === 'Enter') {
				e.preventDefault();
				this.next();
			}
		});
		return input;
	}

	open(input) {
		this.input = input;
		const {units, small, signed} = input.lengthOf;
		const digits = units === 'us' ? [['7', '8', '9', '⌫'], ['4', '5', '6', '\''], ['1', '2', '3', '"']] : [['7', '8', '9', '⌫'], ['4', '5', '6', 'm'], ['1', '2', '3', 'mm']];
		const rows = [...digits, ['.', '0', signed ? '−' : null, null]];
		const all = [];
		if (units === 'us') all.push(build('div', {class: 'pad-eighths'}, ...Object.keys(eighthKeys).map((k) => this.key(k, eighthNames[k]))));
		const names = {'⌫': 'Take the last away', '\'': 'feet', '"': 'inches', '−': 'minus', m: 'metres', mm: 'millimetres'};
		for (const row of rows) for (const k of row) if (k) all.push(this.key(k, names[k]));
		all.push(this.act('Next', () => this.next(), false), this.act('Keep', () => this.onkeep(), signed, 'main'));
		this.keys.replaceChildren(...all);
		this.small = small;
		this.box.hidden = false;
		this.room(this.box.offsetHeight);
		input.select();
		this.fresh = true; // the first key takes the place of what stands there
		this.say();
		setTimeout(() => input.scrollIntoView({block: 'center'}), 0);
	}

	close() {
		this.input = null;
		this.box.hidden = true;
		this.room(0);
	}

	// room keeps a part at the foot of the screen free of what is scrolled to [px].
	room(high) {
		document.body.classList.toggle('padded', high > 0);
		document.body.style.paddingBottom = document.documentElement.style.scrollPaddingBottom = high > 0 ? high + 16 + 'px' : '';
	}

	key(k, name) {
		return build('button', {type: 'button', tabindex: -1, text: k, 'aria-label': name, onclick: () => this.press(k)});
	}

	act(text, onclick, wide, look = '') {
		return build('button', {type: 'button', tabindex: -1, text, class: look + (wide ? ' wide' : ''), onclick});
	}

	press(k) {
		const whole = this.fresh && this.input.selectionStart === 0 && this.input.selectionEnd === this.input.value.length;
		this.input.value = pressed(whole ? '' : this.input.value, k);
		this.fresh = false;
		this.input.setSelectionRange(this.input.value.length, this.input.value.length);
		this.input.dispatchEvent(new Event('input', {bubbles: true}));
	}

	// next goes to the next field of the form; after the last one the pad is put away.
	next() {
		const all = [...this.input.closest('form, section').querySelectorAll('input.length')].filter((i) => i.offsetParent !== null);
		const after = all[all.indexOf(this.input) + 1];
		if (after) after.focus();
		else this.input.blur();
	}

	// say tells what is read of the field.
	say() {
		if (!this.input) return;
		const {units, small} = this.input.lengthOf;
		const text = this.input.value.trim();
		const value = parseLength(text, units, small);
		if (text === '') this.said.textContent = units === 'us' ? (small ? 'Inches' : 'Feet, or feet and inches') : (small ? 'Millimetres' : 'Metres');
		else this.said.textContent = Number.isNaN(value) ? 'Not a length yet' : '= ' + (small ? formatDepth : formatLength)(value, units);
		this.said.classList.toggle('wrong', text !== '' && Number.isNaN(value));
	}
}

// lengthIn returns the length that a field holds [m]: null where it is empty, NaN where it is none.
export function lengthIn(input) {
	const {units, small, written, value} = input.lengthOf;
	if (input.value === written) return value; // to the last digit, which the text does not show
	const text = input.value.trim();
	return text === '' ? null : parseLength(text, units, small);
}
