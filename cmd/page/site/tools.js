// What can be placed on a roof: the button, what is to be tapped, and the new thing.

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
