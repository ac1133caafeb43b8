// Keeps the page on the device, so that it works without a network. VERSION and FILES are written by make page.
'use strict';

const VERSION = 'unbuilt';
const FILES = [];
const shown = 'shown'; // reports that were made here, to be read beside the page

self.addEventListener('install', (e) => {
	e.waitUntil(caches.open(VERSION).then((c) => c.addAll(FILES.map((f) => new Request(f, {cache: 'reload'})))).then(() => self.skipWaiting()));
});

self.addEventListener('activate', (e) => {
	e.waitUntil(caches.keys().then((all) => Promise.all(all.filter((k) => k !== VERSION && k !== shown && k !== 'later').map((k) => caches.delete(k)))).then(() => self.clients.claim()));
});

self.addEventListener('fetch', (e) => {
	const url = new URL(e.request.url);
	if (e.request.method !== 'GET' || url.origin !== location.origin) return;
	e.respondWith(answer(e.request, url));
});

// answer takes what is kept before it asks the network; what is fetched later, as the second program, is kept then.
async function answer(request, url) {
	const kept = await caches.match(request, {ignoreSearch: true});
	if (kept) return kept;
	if (url.pathname.includes('/shown/')) return new Response('This report is not kept any more. Make it again on the page.', {status: 404, headers: {'Content-Type': 'text/plain'}});
	const fresh = await fetch(request);
	if (fresh.ok && url.pathname.endsWith('.wasm.gz')) {
		const cache = await caches.open(VERSION);
		await cache.put(request, fresh.clone());
	}
	return fresh;
}
