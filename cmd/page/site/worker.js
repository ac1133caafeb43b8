// Runs the program, so that the page never waits for it. Messages in: {load: address or bytes of the compressed program}, then {id, call, arguments}.
// Messages out: {ready: true} or {dead: reason}, then {id, result}. A worker that is dead answers nothing any more.
'use strict';

if (typeof Go === 'undefined') importScripts('wasm_exec.js');

// unpacked returns the bytes of the program. Some servers unpack a compressed file on the way; then it is left as it is.
async function unpacked(data) {
	if (!(data[0] === 0x1f && data[1] === 0x8b)) return data;
	const stream = new Blob([data]).stream().pipeThrough(new DecompressionStream('gzip'));
	return new Uint8Array(await new Response(stream).arrayBuffer());
}

async function load(from) {
	let data = from;
	if (typeof from === 'string') {
		const answer = await fetch(from);
		if (!answer.ok) throw new Error('the program could not be fetched: ' + answer.status);
		data = new Uint8Array(await answer.arrayBuffer());
	}
	const go = new Go();
	const {instance} = await WebAssembly.instantiate(await unpacked(data), go.importObject);
	await new Promise((resolve, reject) => {
		self.runnelReady = resolve;
		go.run(instance).then(() => {
			reject(new Error('the program ended'));
			postMessage({dead: 'the program ended'});
		});
	});
}

self.onmessage = async ({data}) => {
	if (data.load) {
		try {
			await load(data.load);
			postMessage({ready: true});
		} catch (e) {
			postMessage({dead: String(e.message ?? e)});
		}
		return;
	}
	try {
		const result = self.runnel[data.call](...data.arguments);
		if (result === undefined) throw new Error('the program gave no answer');
		const moved = (result.files ?? []).map((f) => f.data.buffer);
		postMessage({id: data.id, result}, moved);
		if (data.call === 'complete') setTimeout(() => self.runnel.rest(), 50); // nobody waits now
	} catch (e) {
		postMessage({dead: String(e.message ?? e)});
	}
};
