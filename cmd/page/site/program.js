// The program as the page sees it: calls that are answered later, and a new start where it died.

// Program runs one program in a worker. newWorker makes the worker; program is the address or the bytes of what it loads.
export class Program {
	constructor(newWorker, program) {
		this.newWorker = newWorker;
		this.program = program;
		this.waiting = new Map();
		this.id = 0;
		this.turns = 0;
		this.last = Promise.resolve();
		this.deaths = 0;
		this.onstate = () => {}; // told 'loading', 'ready', 'died'
		this.start();
	}

	start() {
		this.onstate('loading');
		this.worker = this.newWorker();
		this.ready = new Promise((resolve, reject) => {
			this.worker.onmessage = ({data}) => {
				if (data.ready) {
					this.onstate('ready');
					resolve();
				} else if (data.dead) {
					reject(new Error(data.dead));
					this.died(data.dead);
				} else {
					this.answer(data);
				}
			};
			this.worker.onerror = (e) => {
				e.preventDefault();
				reject(new Error(e.message));
				this.died(e.message);
			};
		});
		this.ready.catch(() => {});
		this.worker.postMessage({load: this.program});
	}

	answer({id, result}) {
		this.waiting.get(id)?.(result);
		this.waiting.delete(id);
	}

	// died ends what is waiting with the reason and starts anew, but not for ever.
	died(reason) {
		this.worker.terminate();
		for (const done of this.waiting.values()) done({error: 'The program stopped: ' + reason, fault: true, died: true});
		this.waiting.clear();
		this.deaths++;
		this.onstate('died');
		if (this.deaths <= 5 || performance.now() - this.lastDeath > 10000) this.start();
		this.lastDeath = performance.now();
	}

	// stop ends what runs, because nobody waits for it, and starts anew.
	stop() {
		this.deaths--;
		this.died('it was stopped');
	}

	// turn runs something that calls the program several times, when what began a turn before it is done: the program holds one answer.
	turn(what) {
		this.turns++;
		this.last = this.last.then(what, what);
		return this.last;
	}

	// call calls a function of the program. What is wrong stands in the answer's error.
	async call(name, ...given) {
		try {
			await this.ready;
		} catch (e) {
			return {error: 'The program could not be started: ' + e.message, fault: true, died: true};
		}
		return new Promise((resolve) => {
			const id = ++this.id;
			this.waiting.set(id, resolve);
			this.worker.postMessage({id, call: name, arguments: given});
		});
	}
}
