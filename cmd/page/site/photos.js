// Photos beside findings. They stay on the device. What a camera wrote into a picture (place, owner, serial number) is left out, because the picture
// is drawn anew; the time of taking is read first and kept, the place only where it is wanted.

import {build, press} from './build.js';

const longest = 1600; // px, of a kept picture's longer side: enough to read a ruler, small enough for a phone to keep a hundred

// readExif returns what is kept of the notes in a JPEG: {taken: 'YYYY-MM-DD HH:MM' or '', place: [latitude, longitude] or null}. A picture whose
// notes are broken or missing has none. (Exif 2.32: segment APP1, tags 0x9003, 0x8825.)
export function readExif(data) {
	const none = {taken: '', place: null};
	try {
		const view = new DataView(data.buffer, data.byteOffset, data.byteLength);
		if (view.getUint16(0) !== 0xffd8) return none;
		for (let at = 2; at + 10 < view.byteLength && view.getUint8(at) === 0xff;) {
			const marker = view.getUint8(at + 1);
			const length = view.getUint16(at + 2);
			if (marker === 0xda || length < 2) return none;
			if (marker === 0xe1 && view.getUint32(at + 4) === 0x45786966) return readTiff(new DataView(view.buffer, view.byteOffset + at + 10, Math.min(length - 8, view.byteLength - at - 10)));
			at += 2 + length;
		}
	} catch {
		// broken notes are none
	}
	return none;
}

function readTiff(v) {
	const little = v.getUint16(0) === 0x4949;
	const u16 = (at) => v.getUint16(at, little);
	const u32 = (at) => v.getUint32(at, little);
	const folder = (at) => {
		const tags = new Map();
		for (let i = 0; i < u16(at); i++) {
			const entry = at + 2 + 12 * i;
			tags.set(u16(entry), {count: u32(entry + 4), at: entry + 8});
		}
		return tags;
	};
	const main = folder(u32(4));
	const text = ({count, at}) => {
		const from = count > 4 ? u32(at) : at;
		return Array.from({length: count}, (_, i) => String.fromCharCode(v.getUint8(from + i))).join('').replace(/\0.*$/, '');
	};
	const more = main.has(0x8769) ? folder(u32(main.get(0x8769).at)) : new Map();
	const when = more.get(0x9003) ?? main.get(0x0132);
	const m = when && /^(\d{4}):(\d\d):(\d\d) (\d\d:\d\d)/.exec(text(when));
	let place = null;
	if (main.has(0x8825)) {
		const gps = folder(u32(main.get(0x8825).at));
		const degrees = (tag) => {
			const from = u32(gps.get(tag).at);
			return [0, 1, 2].reduce((sum, k) => sum + u32(from + 8 * k) / (u32(from + 8 * k + 4) || 1) / 60 ** k, 0);
		};
		if (gps.has(2) && gps.has(4)) place = [degrees(2) * (text(gps.get(1)) === 'S' ? -1 : 1), degrees(4) * (text(gps.get(3)) === 'W' ? -1 : 1)];
		if (place?.some((d) => !Number.isFinite(d))) place = null;
	}
	return {taken: m ? m[1] + '-' + m[2] + '-' + m[3] + ' ' + m[4] : '', place};
}

// keepable returns a picture as it is kept: {data: Blob of a JPEG without notes, taken, dated, place}. dated says that the camera wrote the time.
export async function keepable(file, wantPlace) {
	const notes = readExif(new Uint8Array(await file.arrayBuffer()));
	const picture = await createImageBitmap(file, {imageOrientation: 'from-image'});
	const scale = Math.min(1, longest / Math.max(picture.width, picture.height));
	const canvas = build('canvas');
	canvas.width = Math.max(1, Math.round(picture.width * scale));
	canvas.height = Math.max(1, Math.round(picture.height * scale));
	canvas.getContext('2d').drawImage(picture, 0, 0, canvas.width, canvas.height);
	picture.close();
	const data = await new Promise((resolve) => canvas.toBlob(resolve, 'image/jpeg', 0.85));
	const written = new Date(file.lastModified);
	const two = (n) => String(n).padStart(2, '0');
	const clock = written.getFullYear() + '-' + two(written.getMonth() + 1) + '-' + two(written.getDate()) + ' ' + two(written.getHours()) + ':' + two(written.getMinutes());
	return {data, taken: notes.taken || clock, dated: notes.taken !== '', place: wantPlace ? notes.place : null};
}

// photoPreview shows a photo above its form.
export function photoPreview(photo) {
	const address = URL.createObjectURL(photo.data);
	const picture = build('img', {src: address, alt: 'The photo', class: 'preview'});
	picture.onload = () => URL.revokeObjectURL(address);
	return build('figure', {class: 'photo'}, picture, build('figcaption', {text: timeOf(photo) + (photo.place ? '. Place: ' + placeText(photo.place) : '. No place is kept.')}));
}

// timeOf says when a photo was taken.
export function timeOf(photo) {
	return (photo.dated ? 'Taken ' : 'File of ') + photo.taken;
}

function placeText([latitude, longitude]) {
	return latitude.toFixed(5) + ', ' + longitude.toFixed(5);
}

const rose = ['NW', 'N', 'NE', 'W', '', 'E', 'SW', 'S', 'SE'];

// compassField adds nine buttons: the eight ways that a photo may look, and none in the middle. The editor e shows the way on the plan, and hands over the
// way of an arrow that is dragged there.
export function compassField(e, form, value) {
	const box = build('fieldset', {class: 'choice'}, build('legend', {text: 'It looks toward: press, or drag an arrow on the plan'}));
	let chosen = value;
	const choose = (way) => {
		chosen = way;
		buttons.forEach((b, i) => b.setAttribute('aria-pressed', rose[i] === chosen));
		e.aim(way, choose);
	};
	const buttons = rose.map((way) => press(way || '?', () => choose(way), {'aria-pressed': way === value, 'aria-label': way || 'not said'}));
	box.append(build('div', {class: 'rose'}, ...buttons));
	form.box.append(box);
	e.aim(value, choose);
	return () => chosen;
}

// bundled returns the files of a bundle: a roof's file, its photos, and what is known of each photo.
export async function bundled(roofFile, photos) {
	const files = [roofFile];
	const known = [];
	for (const [i, p] of photos.entries()) {
		const {data, roof, ...rest} = p;
		const file = 'photo-' + (i + 1) + '.jpg';
		files.push({name: file, data: new Uint8Array(await data.arrayBuffer())});
		known.push({file, ...rest});
	}
	files.push({name: 'photos.json', data: new TextEncoder().encode(JSON.stringify(known, null, '\t') + '\n')});
	return files;
}

// unbundled parts the files of a bundle into those of the roof and its photos, which belong to no roof yet.
export function unbundled(files) {
	const note = files.find((f) => f.name === 'photos.json');
	if (!note) return {files, photos: []};
	let known = [];
	try {
		known = JSON.parse(new TextDecoder().decode(note.data));
	} catch {
		// the notes are broken: the roof is there all the same
	}
	const photos = (Array.isArray(known) ? known : []).map(({file, id, of, toward, note: text, taken, dated, place, at}) => {
		const picture = files.find((f) => f.name === file);
		return picture && id && {id: String(id), of: String(of ?? ''), toward: String(toward ?? ''), note: String(text ?? ''), taken: String(taken ?? ''), dated: dated === true, place: pair(place), at: pair(at), data: new Blob([picture.data], {type: 'image/jpeg'})};
	}).filter(Boolean);
	return {files: files.filter((f) => f !== note && !/\.jpe?g$/i.test(f.name)), photos};
}

// pair returns two numbers, or null for anything else.
function pair(v) {
	return Array.isArray(v) && v.length === 2 && v.every(Number.isFinite) ? v : null;
}

function escaped(text) {
	return String(text).replace(/[&<>"]/g, (c) => ({'&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;'}[c]));
}

function base64(bytes) {
	let text = '';
	for (let i = 0; i < bytes.length; i += 8192) text += String.fromCharCode(...bytes.subarray(i, i + 8192));
	return btoa(text);
}

// photoPage returns one HTML page with all photos of a roof and a plan of where each was taken. plan is the address of a picture of the plan.
export async function photoPage(roof, photos, plan) {
	const parts = [];
	for (const [i, p] of photos.entries()) {
		const data = 'data:image/jpeg;base64,' + base64(new Uint8Array(await p.data.arrayBuffer()));
		const told = [p.of, p.toward && 'looking ' + p.toward, p.note, timeOf(p), p.place && 'place ' + placeText(p.place)].filter(Boolean).join('. ');
		parts.push('<figure><img src="' + data + '" alt="Photo ' + (i + 1) + '"><figcaption><b>' + (i + 1) + '</b> ' + escaped(told) + '</figcaption></figure>\n');
	}
	return '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1">\n<title>' + escaped(roof.name || 'Roof') + ': photos</title>\n'
		+ '<style>body{font:1rem/1.4 system-ui,sans-serif;max-width:60rem;margin:0 auto;padding:1rem;color:#1a1020}img{max-width:100%;display:block}figure{margin:1rem 0 2rem;break-inside:avoid}</style></head>\n<body><h1>'
		+ escaped(roof.name || 'Roof') + ': photos</h1>\n<figure><img src="' + plan + '" alt="Plan: each number is where a photo was taken, its arrow the way it looks"><figcaption>Each number is where a photo was taken, its arrow the way it looks.</figcaption></figure>\n'
		+ parts.join('') + '</body></html>\n';
}
