// Whether a finger is on a button. What is put in a button's place meanwhile would not hear that it is lifted, and the tap would be lost.

let down = false;
let waiting = [];

window.addEventListener('pointerdown', (e) => {
	down = Boolean(e.target.closest?.('button'));
}, true);

for (const end of ['pointerup', 'pointercancel']) {
	window.addEventListener(end, () => {
		down = false;
		const all = waiting;
		waiting = [];
		setTimeout(() => all.forEach((done) => done())); // the button hears its tap first
	}, true);
}

// lifted resolves once no finger is on a button.
export function lifted() {
	return down ? new Promise((done) => waiting.push(done)) : Promise.resolve();
}
