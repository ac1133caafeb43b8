// What is kept on the device: roofs by id, and photos beside them. Nothing of it leaves the device.

const stores = ['roofs', 'photos'];

// openStore opens what this browser keeps for this page. It rejects where the browser keeps nothing.
export function openStore(name = 'roofs') {
	return new Promise((resolve, reject) => {
		const request = indexedDB.open(name, 1);
		request.onupgradeneeded = () => {
			for (const s of stores) request.result.createObjectStore(s, {keyPath: 'id'});
		};
		request.onerror = () => reject(request.error);
		request.onsuccess = () => resolve(new Store(request.result));
	});
}

// Store keeps objects by their id. kind is 'roofs' or 'photos'; a photo is {id, roof: id of the roof, data: Blob, ...}.
class Store {
	constructor(database) {
		this.database = database;
	}

	ask(kind, mode, call) {
		return new Promise((resolve, reject) => {
			const t = this.database.transaction(kind, mode);
			const request = call(t.objectStore(kind));
			t.oncomplete = () => resolve(request.result);
			t.onerror = t.onabort = () => reject(t.error);
		});
	}

	get(kind, id) {
		return this.ask(kind, 'readonly', (s) => s.get(id));
	}

	all(kind) {
		return this.ask(kind, 'readonly', (s) => s.getAll());
	}

	put(kind, thing) {
		return this.ask(kind, 'readwrite', (s) => s.put(thing));
	}

	remove(kind, id) {
		return this.ask(kind, 'readwrite', (s) => s.delete(id));
	}
}
