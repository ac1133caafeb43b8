// Places by their distances from walls, as a tape gives them.

const octants = ['E', 'NE', 'N', 'NW', 'W', 'SW', 'S', 'SE'];

// wallsOf returns the walls between the corners of a ring in the order of taping: {number from 1, name, from, to, inward: unit vector}. A wall is
// named by where it lies, as seen from the middle, or by its number where several lie that way.
export function wallsOf(ring) {
	const turn = Math.sign(twiceArea(ring)) || 1;
	const walls = ring.map((from, i) => {
		const to = ring[(i + 1) % ring.length];
		const long = Math.hypot(to[0] - from[0], to[1] - from[1]) || 1;
		const inward = [-turn * (to[1] - from[1]) / long, turn * (to[0] - from[0]) / long];
		const faces = wayTo([0, 0], [-inward[0], -inward[1]]);
		return {number: i + 1, from, to, inward, faces};
	});
	for (const w of walls) w.name = walls.filter((o) => o.faces === w.faces).length === 1 ? w.faces + ' wall' : 'wall ' + w.number;
	return walls;
}

// wayTo returns the point of the compass that lies nearest to the way from one place to another.
export function wayTo(from, to) {
	return octants[(Math.round(Math.atan2(to[1] - from[1], to[0] - from[0]) / (Math.PI / 4)) + 8) % 8];
}

// twiceArea is positive where a ring runs against the clock.
function twiceArea(ring) {
	return ring.reduce((sum, p, i) => {
		const q = ring[(i + 1) % ring.length];
		return sum + p[0] * q[1] - q[0] * p[1];
	}, 0);
}

// distanceFrom returns how far inside a wall's line a place lies [m].
export function distanceFrom(wall, at) {
	return (at[0] - wall.from[0]) * wall.inward[0] + (at[1] - wall.from[1]) * wall.inward[1];
}

// meet returns the place at two distances inside two walls, null where the walls run alike.
export function meet(a, fromA, b, fromB) {
	const [p, q] = [a.inward, b.inward];
	const cross = p[0] * q[1] - p[1] * q[0];
	if (Math.abs(cross) < 0.2) return null;
	const [u, v] = [fromA + a.from[0] * p[0] + a.from[1] * p[1], fromB + b.from[0] * q[0] + b.from[1] * q[1]];
	return [(u * q[1] - v * p[1]) / cross, (v * p[0] - u * q[0]) / cross];
}

// nearestWalls returns the walls that a place is best taped from: the nearest, and the nearest that runs across it; east and west first.
export function nearestWalls(walls, at) {
	const far = (w) => {
		const [dx, dy] = [w.to[0] - w.from[0], w.to[1] - w.from[1]];
		const t = Math.min(Math.max(((at[0] - w.from[0]) * dx + (at[1] - w.from[1]) * dy) / (dx * dx + dy * dy || 1), 0), 1);
		return Math.hypot(at[0] - w.from[0] - t * dx, at[1] - w.from[1] - t * dy);
	};
	const sorted = [...walls].sort((a, b) => far(a) - far(b) || a.number - b.number);
	const first = sorted[0];
	const second = sorted.find((w) => meet(first, 0, w, 0) !== null);
	if (!second) return null;
	return Math.abs(first.inward[0]) >= Math.abs(second.inward[0]) ? [first, second] : [second, first];
}

// insideRing reports whether a place lies in a ring, by the even-odd rule.
export function insideRing(ring, at) {
	let inside = false;
	ring.forEach((a, i) => {
		const b = ring[(i + 1) % ring.length];
		if ((a[1] > at[1]) !== (b[1] > at[1]) && at[0] < a[0] + (b[0] - a[0]) * (at[1] - a[1]) / (b[1] - a[1])) inside = !inside;
	});
	return inside;
}

// middleOf returns a place on the roof near its middle.
export function middleOf(ring) {
	const [xs, ys] = [ring.map((p) => p[0]), ring.map((p) => p[1])];
	const middle = [(Math.min(...xs) + Math.max(...xs)) / 2, (Math.min(...ys) + Math.max(...ys)) / 2];
	if (insideRing(ring, middle)) return middle;
	const [a, b, c] = ring;
	return [(a[0] + b[0] + c[0]) / 3, (a[1] + b[1] + c[1]) / 3];
}

// between returns the place that many metres from one place toward another.
export function between(from, toward, metres) {
	const long = Math.hypot(toward[0] - from[0], toward[1] - from[1]) || 1;
	return [from[0] + (toward[0] - from[0]) * metres / long, from[1] + (toward[1] - from[1]) * metres / long];
}
