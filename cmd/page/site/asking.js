// Asking has the program answer the roof that is measured, after each change.

import {lifted} from './finger.js';
import {painted} from './frame.js';

export class Asking {
	constructor(editor) {
		this.editor = editor;
		this.stale = false; // the roof was changed since the program was asked last
		this.working = false;
	}

	// ask answers the roof as it is now: first where water stands, then all the rest. While one answer is worked out the next waits, and only the last
	// state is asked; of one that is not the last no more than the water.
	async ask() {
		const {page, measure} = this.editor;
		this.stale = true;
		if (this.working) return;
		this.working = true;
		measure.busy(true);
		await page.warmed;
		while (this.stale) {
			await page.runnel.turn(() => this.answer());
			if (!this.stale) await lifted();
		}
		this.working = false;
		measure.busy(false);
		if (!this.editor.history) return;
		this.editor.draw();
		measure.show();
	}

	// answer asks the program once and gives the editor what it says.
	async answer() {
		this.stale = false;
		const {editor} = this;
		if (!editor.history) return;
		const {roof, page} = editor;
		const here = () => editor.history?.roof.id === roof.id;
		let answer = await page.runnel.call('glance', [editor.file()], editor.flags());
		if (!here()) return;
		if (!answer.error) {
			editor.seen = JSON.parse(answer.picture);
			editor.draw();
			await painted(); // the program would take the processor from the painter
			if (this.stale) return;
			if (!here()) return;
			answer = await page.runnel.call('complete');
			if (!here()) return;
			if (!answer.error) answer.picture = JSON.parse(answer.picture);
		}
		editor.seen = null;
		editor.answer = answer;
		editor.answer.of = roof;
	}
}
