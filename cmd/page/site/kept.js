// Roofs and photos that are kept on the device, and the list of them on the first screen.

import {build, press} from './build.js';
import {openStore} from './store.js';
import {unexported} from './roof.js';

// Kept keeps what the editor e holds.
export class Kept {
	constructor(e) {
		this.e = e;
		this.broken = false; // the browser keeps nothing
		this.store = openStore().catch(() => {
			this.broken = true;
			return null;
		});
		this.last = Promise.resolve();
	}

	// put keeps a thing; what cannot be kept is said once, and the page goes on.
	put(kind, thing) {
		return this.with((s) => s.put(kind, thing));
	}

	remove(kind, id) {
		return this.with((s) => s.remove(kind, id));
	}

	// with does something with the store, one after the other.
	with(call) {
		this.last = this.last.then(async () => {
			const store = await this.store;
			if (!store) return null;
			try {
				return await call(store);
			} catch {
				this.broken = true;
				this.e.measure.show();
				return null;
			}
		});
		return this.last;
	}

	save(roof) {
		navigator.storage?.persist?.().catch(() => {});
		return this.put('roofs', roof);
	}

	// sync keeps the photos that are new or changed, and lets go those that are no more.
	sync(before, after) {
		for (const p of after) if (!before.includes(p)) this.put('photos', p);
		for (const p of before) if (!after.some((q) => q.id === p.id)) this.remove('photos', p.id);
	}

	async photosOf(id) {
		return ((await this.with((s) => s.all('photos'))) ?? []).filter((p) => p.roof === id);
	}

	// all returns the roofs that are kept.
	async all() {
		return (await this.with((s) => s.all('roofs'))) ?? [];
	}

	// list shows them.
	async list() {
		const roofs = await this.all();
		roofs.sort((a, b) => b.changed - a.changed);
		const target = document.getElementById('kept');
		target.replaceChildren();
		if (roofs.length === 0) return;
		target.append(build('h3', {text: 'Roofs on this device'}), build('ul', {}, ...roofs.map((r) => this.item(r))));
	}

	item(roof) {
		const when = new Date(roof.changed).toLocaleString([], {dateStyle: 'medium', timeStyle: 'short'});
		const name = roof.name || 'Roof without a name';
		const open = press(name, () => this.e.resume(roof), {class: 'kept-roof'});
		open.append(build('span', {text: when + (unexported(roof) ? ', not saved as a file' : ', saved as a file')}));
		const away = press('Remove', async () => {
			if (away.dataset.sure) {
				await this.drop(roof);
				return;
			}
			away.dataset.sure = 'yes';
			away.textContent = 'Tap again: remove it for good';
			away.setAttribute('aria-label', 'Tap again: remove ' + name + ' for good');
		}, {'aria-label': 'Remove ' + name});
		return build('li', {}, open, away);
	}

	async drop(roof) {
		for (const p of await this.photosOf(roof.id)) await this.remove('photos', p.id);
		await this.remove('roofs', roof.id);
		await this.list();
	}
}
