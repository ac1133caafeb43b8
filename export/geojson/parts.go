package geojson

import (
	"cmp"
	"runtime"

	"runnel/export/layer"
)

// parts writes features, made side by side where they come in several parts, in the order of these. As many are ahead of what is written as there
// are processors, and one.
func (w *writer) parts(list []layer.Part) {
	if len(list) == 1 {
		list[0](w.feature)
		return
	}
	made := make([]chan *part, len(list))
	for i := range made {
		made[i] = make(chan *part, 1)
	}
	room := make(chan []byte, runtime.GOMAXPROCS(0)+1) // with a buffer for the next part, grown by one before it
	for range cap(room) {
		room <- newBuffer()
	}
	go func() {
		for i, features := range list {
			buf := <-room
			go func() { made[i] <- w.part(buf, features) }()
		}
	}()
	var broken any
	for i := range made {
		p := <-made[i]
		spare := p.buf[:0]
		if broken = cmp.Or(broken, p.broken); broken == nil {
			spare = w.join(p)
		}
		room <- spare
	}
	for range cap(room) {
		spare := <-room
		buffers.Put(&spare)
	}
	if broken != nil {
		panic(broken)
	}
}

// part is a piece of a collection.
type part struct {
	*writer
	broken any // of a panic
}

// part makes the features of a part in a buffer.
func (w *writer) part(buf []byte, features layer.Part) (p *part) {
	p = &part{writer: &writer{grid: w.grid, buf: buf}}
	defer func() { p.broken = recover() }()
	features(p.feature)
	return p
}

// join writes a part, whose buffer goes to the spool as it is, and returns another, which is empty.
func (w *writer) join(p *part) (spare []byte) {
	if w.any && p.any {
		w.text(",")
	}
	w.any = w.any || p.any
	w.flush()
	spare = w.buf
	w.buf = w.out.swap(p.buf)
	if p.seen.any {
		w.seen.add(p.seen.minX, p.seen.minY)
		w.seen.add(p.seen.maxX, p.seen.maxY)
	}
	return spare
}
