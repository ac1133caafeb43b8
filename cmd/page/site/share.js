// Files that were made: to be read here, shared, or downloaded.

import {single} from './place.js';

const types = {
	html: 'text/html', svg: 'image/svg+xml', json: 'application/json', geojson: 'application/geo+json', csv: 'text/csv', pdf: 'application/pdf', zip: 'application/zip', txt: 'text/plain',
	xlsx: 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet',
};

export function typeOf(name) {
	return types[name.split('.').pop()] ?? 'application/octet-stream';
}

// download gives a file to the browser's downloads.
export function download(name, data) {
	const address = URL.createObjectURL(new Blob([data], {type: typeOf(name)}));
	const link = document.createElement('a');
	link.href = address;
	link.download = name;
	link.click();
	setTimeout(() => URL.revokeObjectURL(address), 60000);
}

// canShare says whether this browser shares a file with other programs.
export function canShare(name, data) {
	return Boolean(navigator.canShare?.({files: [new File([data], name, {type: typeOf(name)})]}));
}

// share hands a file to other programs; it resolves to false where somebody thought better of it.
export async function share(name, data) {
	try {
		await navigator.share({files: [new File([data], name, {type: typeOf(name)})], title: name});
		return true;
	} catch (e) {
		if (e.name === 'AbortError') return false;
		throw e;
	}
}

// readHere returns an address at which a file can be read beside the page, also without a network; null where that cannot be had.
export async function readHere(name, data) {
	if (single || !navigator.serviceWorker?.controller || !/\.(html|svg|pdf)$/.test(name)) return null;
	const cache = await caches.open('shown');
	const address = 'shown/' + encodeURIComponent(name);
	await cache.put(new Request(address), new Response(new Blob([data], {type: typeOf(name)}), {headers: {'Content-Type': typeOf(name) + ';charset=utf-8'}}));
	return address;
}

// list shows files with what can be done with each. titles say in words what files are, by the ends of their names.
export function list(target, files, titles = {}) {
	target.replaceChildren();
	for (const f of files) {
		const item = document.createElement('li');
		const name = document.createElement('span');
		const end = Object.keys(titles).find((e) => f.name.endsWith(e));
		if (end) name.append(strong(titles[end]), ' ');
		name.append(f.name + ', ' + size(f.data.length));
		const row = document.createElement('div');
		row.className = 'row';
		const save = document.createElement('button');
		save.textContent = 'Download';
		save.setAttribute('aria-label', 'Download ' + f.name);
		save.onclick = () => download(f.name, f.data);
		row.append(save);
		if (canShare(f.name, f.data)) {
			const send = document.createElement('button');
			send.textContent = 'Share';
			send.setAttribute('aria-label', 'Share ' + f.name);
			send.onclick = () => share(f.name, f.data).catch(() => download(f.name, f.data));
			row.append(send);
		}
		item.append(name, row);
		target.append(item);
		readHere(f.name, f.data).then((address) => {
			if (!address) return;
			const link = document.createElement('a');
			link.href = address;
			link.target = '_blank';
			link.rel = 'noopener';
			link.className = 'button';
			link.textContent = 'Read';
			link.setAttribute('aria-label', 'Read ' + f.name);
			row.prepend(link);
		}).catch(() => {});
	}
}

function strong(text) {
	const e = document.createElement('strong');
	e.textContent = text + ':';
	return e;
}

function size(n) {
	return n < 1000 ? n + ' bytes' : n < 1e6 ? Math.round(n / 1000) + ' kB' : (n / 1e6).toFixed(1) + ' MB';
}
