// Where the page runs: from a folder on a web space, or as one single file. The single file holds everything in itself.

const held = document.getElementById('held-program');

// single says that this is the single file.
export const single = held !== null;

function bytes(base64) {
	const text = atob(base64);
	const out = new Uint8Array(text.length);
	for (let i = 0; i < text.length; i++) out[i] = text.charCodeAt(i);
	return out;
}

// program is the address, or the bytes, of the program that checks.
export const program = single ? bytes(held.textContent.trim()) : 'runnel.wasm.gz';

// whole is the address of the whole command line, which writes papers and PDF; null where it cannot be had.
export const whole = single ? null : 'whole.wasm.gz';

// newWorker returns a worker that loads a program.
export function newWorker() {
	if (!single) return new Worker('worker.js');
	const code = new Blob([document.getElementById('held-worker').textContent], {type: 'text/javascript'});
	return new Worker(URL.createObjectURL(code));
}

// newWholeWorker returns a worker that runs command lines.
export function newWholeWorker() {
	return new Worker('whole.js');
}

// example returns the invented roof.
export async function example() {
	const name = 'library.geojson';
	if (single) return {name, data: new TextEncoder().encode(document.getElementById('held-example').textContent)};
	const answer = await fetch(name);
	return {name, data: new Uint8Array(await answer.arrayBuffer())};
}

// keepOnDevice asks the browser to keep the page for use without a network.
export function keepOnDevice() {
	if (single || !('serviceWorker' in navigator) || !window.isSecureContext) return;
	navigator.serviceWorker.register('sw.js').catch(() => {});
}
