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
	room := make(chan struct{}, runtime.GOMAXPROCS(0)+1)
	go func() {
		for i, features := range list {
			room <- struct{}{}
			go func() { made[i] <- w.part(features) }()
		}
	}()
	var broken any
	for i := range made {
		p := <-made[i]
		<-room
		if broken = cmp.Or(broken, p.broken); broken == nil {
			w.join(p)
		}
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

// part makes the features of a part.
func (w *writer) part(features layer.Part) (p *part) {
	p = &part{writer: &writer{grid: w.grid, buf: newBuffer()}}
	defer func() { p.broken = recover() }()
	features(p.feature)
	return p
}

// join writes a part.
func (w *writer) join(p *part) {
	if w.any && p.any {
		w.text(",")
	}
	w.any = w.any || p.any
	w.flush()
	w.buf = append(w.buf, p.buf...)
	w.flush()
	if p.seen.any {
		w.seen.add(p.seen.minX, p.seen.minY)
		w.seen.add(p.seen.maxX, p.seen.maxY)
	}
	buffers.Put(&p.buf)
}
