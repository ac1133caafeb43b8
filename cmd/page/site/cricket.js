// Crickets on the plan: where the ends of one are, and how they are drawn.

// endAt returns an end of a cricket: what lies under the finger, else the nearest place of a wall, else the place itself.
export function endAt({outlets, curbs, outline}, place, reach) {
	const rings = [...outline, ...curbs.map((c) => c.ring)];
	const near = (all) => all.map((p) => [Math.hypot(p[0] - place[0], p[1] - place[1]), p]).filter(([d]) => d < reach).sort((a, b) => a[0] - b[0])[0]?.[1];
	const feet = rings.flatMap((r) => r.map((p, i) => foot(p, r[(i + 1) % r.length], place)));
	return near(outlets.filter((o) => !o.line).map((o) => o.at)) ?? near(rings.flat()) ?? near(feet) ?? place;
}

// foot returns the place between a and b that is nearest to p.
function foot(a, b, p) {
	const [x, y] = [b[0] - a[0], b[1] - a[1]];
	const t = Math.min(1, Math.max(0, ((p[0] - a[0]) * x + (p[1] - a[1]) * y) / (x * x + y * y || 1)));
	return [a[0] + t * x, a[1] + t * y];
}

// drawCrickets draws crickets, and the ends of one that is being placed.
export function drawCrickets(plan, crickets, ends) {
	const c = plan.context;
	c.strokeStyle = c.fillStyle = '#28002F';
	c.lineWidth = 2.5;
	for (const {base, tips} of crickets) {
		const mid = [(base[0][0] + base[1][0]) / 2, (base[0][1] + base[1][1]) / 2];
		for (const tip of tips) for (const to of [...base, mid]) line(plan, tip, to);
		if (tips.length === 1) line(plan, ...base);
	}
	for (const end of ends) {
		c.beginPath();
		c.arc(...plan.at(end), 9, 0, 7);
		c.fill();
	}
}

function line(plan, a, b) {
	plan.context.beginPath();
	plan.context.moveTo(...plan.at(a));
	plan.context.lineTo(...plan.at(b));
	plan.context.stroke();
}
