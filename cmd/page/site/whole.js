// Runs the whole command line in a worker, with files in memory: what writes papers, PDF and workbooks. Messages are those of worker.js; its one call is
// run(command line, files): -> {error, text, said, code, files} with the files that were written into the folder "out".
'use strict';

importScripts('memory.js', 'wasm_exec.js');

let code;

async function unpacked(data) {
	if (!(data[0] === 0x1f && data[1] === 0x8b)) return data;
	const stream = new Blob([data]).stream().pipeThrough(new DecompressionStream('gzip'));
	return new Uint8Array(await new Response(stream).arrayBuffer());
}

function text(parts) {
	return parts.map((p) => new TextDecoder().decode(p)).join('');
}

async function run(command, files) {
	const fs = globalThis.fs;
	fs.clear();
	for (const f of files) fs.put(f.name, f.data);
	const go = new Go();
	go.argv = ['runnel', ...command];
	go.env = {HOME: '/roof', PATH: '', TMPDIR: '/roof'};
	let ended = 0;
	go.exit = (c) => {
		ended = c;
	};
	await go.run(await WebAssembly.instantiate(code, go.importObject));
	const said = text(fs.printed[2]);
	return {error: ended === 0 || ended === 1 ? '' : said, fault: ended === 5, text: text(fs.printed[1]), said, code: ended, files: fs.below('out')};
}

self.onmessage = async ({data}) => {
	try {
		if (data.load) {
			const answer = await fetch(data.load);
			if (!answer.ok) throw new Error('the program could not be fetched: ' + answer.status);
			code = await WebAssembly.compile(await unpacked(new Uint8Array(await answer.arrayBuffer())));
			postMessage({ready: true});
			return;
		}
		const result = await run(...data.arguments);
		postMessage({id: data.id, result}, result.files.map((f) => f.data.buffer));
	} catch (e) {
		postMessage({dead: String(e.message ?? e)});
	}
};
