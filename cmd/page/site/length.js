// Lengths as people on a roof write them. All functions take and give metres.

const foot = 0.3048;
const inch = 0.0254;
const simple = {'½': '1/2', '¼': '1/4', '¾': '3/4', '⅛': '1/8', '⅜': '3/8', '⅝': '5/8', '⅞': '7/8'};

// plain writes typographic marks as typed ones.
function plain(text) {
	return String(text).trim().toLowerCase()
		.replace(/[′’‘]/g, '\'').replace(/[″“”]|''/g, '"').replace(/[–—−]/g, '-')
		.replace(/[½¼¾⅛⅜⅝⅞]/g, (c) => ' ' + simple[c]).replace(/(\d),(\d)/g, '$1.$2').trim();
}

// number reads "12", "12.5", "3/4" or "12 3/4" ("12-3/4"); NaN where it is none.
function number(text) {
	const m = /^(\d+(?:\.\d*)?|\.\d+)?(?:(?:^|[ -]+)(\d+)\/(\d+))?$/.exec(text.trim());
	if (!m || (m[1] === undefined && m[2] === undefined)) return NaN;
	if (m[3] !== undefined && Number(m[3]) === 0) return NaN;
	return Number(m[1] ?? 0) + (m[2] === undefined ? 0 : Number(m[2]) / Number(m[3]));
}

// parseLength reads a length: 12' 6", 12ft 6in, 3/4", 3.5 m, 25 mm. A bare number is in feet (us) or metres (si), or, where small is true, in
// inches or millimetres. It returns metres, or NaN where the text is no length.
export function parseLength(text, units, small = false) {
	let s = plain(text);
	let sign = 1;
	if (s.startsWith('-')) {
		sign = -1;
		s = s.slice(1);
	}
	const metric = /^(.+?)\s*(mm|cm|m)$/.exec(s);
	if (metric) return sign * number(metric[1]) * {mm: 0.001, cm: 0.01, m: 1}[metric[2]];
	const feet = /^(.+?)\s*(?:'|ft\.?|feet)\s*-?\s*(?:(.+?)\s*(?:"|in\.?|inches)?)?$/.exec(s);
	if (feet) {
		const rest = feet[2] === undefined ? 0 : number(feet[2]);
		return rest >= 12 ? NaN : sign * (number(feet[1]) * foot + rest * inch);
	}
	const inches = /^(.+?)\s*(?:"|in\.?|inches)$/.exec(s);
	if (inches) return sign * number(inches[1]) * inch;
	if (units === 'us') return sign * number(s) * (small ? inch : foot);
	return sign * number(s) * (small ? 0.001 : 1);
}

// fraction writes inches to the nearest eighth: 3-1/4.
function fraction(eighths) {
	const whole = Math.floor(eighths / 8);
	let over = eighths % 8;
	let under = 8;
	if (over === 0) return String(whole);
	while (over % 2 === 0) {
		over /= 2;
		under /= 2;
	}
	return (whole > 0 ? whole + '-' : '') + over + '/' + under;
}

// formatLength writes a length of the roof: 12' 6-1/2" or 3.81 m.
export function formatLength(metres, units) {
	if (units !== 'us') return (Math.round(metres * 1000) / 1000).toString() + ' m';
	const eighths = Math.round(Math.abs(metres) / inch * 8);
	const feet = Math.floor(eighths / 96);
	return (metres < 0 ? '-' : '') + feet + '\' ' + fraction(eighths % 96) + '"';
}

// formatDepth writes a depth of water or another small length: 3/4" or 19 mm.
export function formatDepth(metres, units) {
	if (units !== 'us') return Math.round(metres * 1000) + ' mm';
	return (metres < 0 ? '-' : '') + fraction(Math.round(Math.abs(metres) / inch * 8)) + '"';
}

// exactly writes a length so that it is read back as the same to 0.01 mm, in feet or metres.
export function exactly(metres, units) {
	const value = units === 'us' ? metres / foot : metres;
	return String(Math.round(value * 1e5) / 1e5);
}

// exactlySmall writes a small length likewise, in inches or millimetres, with its unit.
export function exactlySmall(metres, units) {
	const [size, name] = units === 'us' ? [inch, 'in'] : [0.001, 'mm'];
	return String(Math.round(metres / size * 1e3) / 1e3) + name;
}
