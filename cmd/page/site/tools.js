// What can be placed on a roof: the button, what is to be tapped, and the new thing.

import {corners} from './roof.js';
import {distanceFrom, insideRing, meet, nearestWalls} from './walls.js';

// tools are in the order of the buttons. make returns the new thing, as sketch.js lists things; edge: it lies on a wall.
export const tools = [
	{id: 'drain', text: 'Drain', tap: 'Tap where the drain is.', make: (at) => ({list: 'outlets', thing: {type: 'drain', overflow: false, at}})},
	{id: 'scupper', text: 'Scupper', tap: 'Tap the wall where the scupper is.', edge: true, make: (at) => ({list: 'outlets', thing: {type: 'scupper', overflow: false, at}})},
	{id: 'overflow', text: 'Overflow', tap: 'Tap where the overflow is.', edge: true, make: (at) => ({list: 'outlets', thing: {type: 'scupper', overflow: true, at}})},
	{id: 'curb', text: 'Curb', tap: 'Tap the south-west corner of the curb.', make: (at) => ({list: 'curbs', thing: {at}})},
	{id: 'chalk', text: 'Water: chalk', tap: 'Tap round the water\'s edge.', more: 'Eight marks or more make it smooth.'},
	{id: 'oval', text: 'Water: oval', tap: 'Tap the middle of the water.', make: (at) => ({list: 'ponds', thing: {chalk: [], soundings: [], oval: {at, east: null, north: null}, hours: '', outlets: '', note: ''}})},
	{id: 'depth', text: 'Depth', tap: 'Tap where you measured the depth.', more: 'The deepest place first. Five depths narrow the weight: the deepest, and half-way to the edge on four sides.'},
	{id: 'height', text: 'Height', tap: 'Tap where the rod stands.', make: (at) => ({list: 'spots', thing: {at, height: null, what: '', of: ''}})},
	{id: 'slope', text: 'Slope', tap: 'Tap where one end of the level lies on the roof.', make: (at) => ({list: 'slopes', thing: {at}})},
	{id: 'photo', text: 'Photo', tap: 'Tap where you stood.'},
];

// placedBy returns where a tap puts what a tool places: on the wall for what lies in walls, else to the half foot or decimetre, as a finger is no tape; null
// beside the roof. reach is how far a finger reaches [m].
export function placedBy(tool, roof, walls, at, reach) {
	const inside = insideRing(corners(roof.outline).ring, at);
	const two = nearestWalls(walls, at);
	if (!two) return inside ? at : null;
	const [a, b] = two;
	let far = [distanceFrom(a, at), distanceFrom(b, at)];
	const near = far.map((d) => Math.abs(d) < reach * 1.5);
	if (!inside && !near[0] && !near[1]) return null;
	if (tool.marks) return inside ? at : meet(a, Math.max(far[0], 0), b, Math.max(far[1], 0));
	const step = roof.units === 'us' ? 0.1524 : 0.1;
	far = far.map((d) => Math.max(Math.round(d / step) * step, 0));
	if (tool.edge && (near[0] || near[1])) far[Math.abs(far[0]) <= Math.abs(far[1]) ? 0 : 1] = 0;
	return meet(a, far[0], b, far[1]);
}
