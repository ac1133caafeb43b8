// When something drawn is on the screen.

const longest = 500; // [ms] a page that is not shown is never painted

// painted resolves once what was drawn so far is on the screen: the second frame from now begins after the first was handed over.
export function painted() {
	return new Promise((done) => {
		setTimeout(done, document.hidden ? 0 : longest);
		requestAnimationFrame(() => requestAnimationFrame(done));
	});
}
