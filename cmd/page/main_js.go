// Command page is runnel for a page in a browser: compiled to WebAssembly, it checks the roof whose files a page hands over, and keeps the
// answer for what the page asks next. Nothing leaves the device.
//
// It is called from JavaScript, in a worker, as the object "runnel":
//
//	check(files, flags)  files: [{name, data: Uint8Array}, ...], flags: ["--units=ft", ...] as of runnel check
//	                     -> {error, fault, text, warnings: [string], picture: JSON of answer.Picture}
//	glance(files, flags) -> {error, fault, picture}: the same roof as far as the water, sooner; complete() -> as check, of the last glance
//	try(changes)         changes: JSON of a list of answer.Change -> {error, fault, trial: JSON of answer.Trial} on the surface of the last answer
//	runs() -> {error, fault, runs: JSON of a list of answer.Run}: what runs to which outlet after what was tried last
//	write(kinds)         kinds: ["report", ...] as --write names them -> {error, fault, files: [{name, data}]} of the last answer
//	rest()               collects garbage while nobody waits
//	pack(files)          -> {error, fault, files: one zip archive of them}; unpack(files) -> {error, fault, files}: what the one archive holds
//
// error is empty where all went well; fault says that it is the program's own.
package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"runtime"
	"runtime/debug"
	"syscall/js"

	"runnel/analysis/fault"
	"runnel/cmd/page/answer"
	"runnel/export"
)

// garbage is how much memory may be let go before it is collected [percent]: a fifth less time for some ten megabytes.
const garbage = 400

var errNothing = errors.New("no roof has been checked yet")

func main() {
	debug.SetGCPercent(garbage)
	p := &program{}
	js.Global().Set("runnel", map[string]any{
		"check":    guarded(p.check),
		"glance":   guarded(p.glance),
		"complete": guarded(p.complete),
		"try":      guarded(p.try),
		"runs":     guarded(p.runs),
		"write":    guarded(p.write),
		"rest":     guarded(rest),
		"pack":     guarded(pack),
		"unpack":   guarded(unpack),
	})
	js.Global().Call("runnelReady")
	select {}
}

// program keeps the last answer.
type program struct{ answer *answer.Answer }

// guarded makes a function of JavaScript of one that may fail.
func guarded(call func(args []js.Value) (map[string]any, error)) js.Func {
	return js.FuncOf(func(_ js.Value, args []js.Value) (out any) {
		defer func() {
			if v := recover(); v != nil {
				out = map[string]any{"error": fmt.Sprintf("internal fault: unexpected: %v", v), "fault": true}
			}
		}()
		result, err := call(args)
		if err != nil {
			var broken *fault.Error
			return map[string]any{"error": err.Error(), "fault": errors.As(err, &broken)}
		}
		result["error"] = ""
		return result
	})
}

func (p *program) check(args []js.Value) (map[string]any, error) {
	if _, err := p.glance(args); err != nil {
		return nil, err
	}
	return p.complete(nil)
}

func (p *program) glance(args []js.Value) (map[string]any, error) {
	p.answer = nil
	a, err := answer.Glance(context.Background(), filesOf(args[0]), textsOf(args[1]))
	if err != nil {
		return nil, err
	}
	p.answer = a
	picture, err := json.Marshal(a.Picture())
	return map[string]any{"picture": string(picture)}, err
}

func (p *program) complete([]js.Value) (map[string]any, error) {
	if p.answer == nil {
		return nil, errNothing
	}
	a := p.answer
	p.answer = nil // until it is whole
	if err := a.Complete(); err != nil {
		return nil, err
	}
	text, err := a.Text()
	if err != nil {
		return nil, err
	}
	picture, err := json.Marshal(a.Picture())
	if err != nil {
		return nil, err
	}
	p.answer = a
	warnings := []any{}
	for _, w := range a.Warnings() {
		warnings = append(warnings, w)
	}
	return map[string]any{"text": text, "warnings": warnings, "picture": string(picture)}, nil
}

func (p *program) try(args []js.Value) (map[string]any, error) {
	if p.answer == nil {
		return nil, errNothing
	}
	var changes []answer.Change
	if err := json.Unmarshal([]byte(args[0].String()), &changes); err != nil {
		return nil, err
	}
	t, err := p.answer.Try(changes)
	if err != nil {
		return nil, err
	}
	text, err := json.Marshal(t)
	return map[string]any{"trial": string(text)}, err
}

func (p *program) runs([]js.Value) (map[string]any, error) {
	if p.answer == nil {
		return nil, errNothing
	}
	runs, err := p.answer.Runs()
	if err != nil {
		return nil, err
	}
	text, err := json.Marshal(runs)
	return map[string]any{"runs": string(text)}, err
}

func (p *program) write(args []js.Value) (map[string]any, error) {
	if p.answer == nil {
		return nil, errNothing
	}
	var kinds []export.Kind
	for _, k := range textsOf(args[0]) {
		kinds = append(kinds, export.Kind(k))
	}
	files, err := p.answer.Files(kinds)
	if err != nil {
		return nil, err
	}
	return handed(files), nil
}

// rest collects what was let go while nobody waits, so that the next answer need not.
func rest([]js.Value) (map[string]any, error) {
	runtime.GC()
	return map[string]any{}, nil
}

func pack(args []js.Value) (map[string]any, error) {
	data, err := answer.Pack(filesOf(args[0]))
	return handed([]answer.File{{Name: "roof.zip", Data: data}}), err
}

func unpack(args []js.Value) (map[string]any, error) {
	in := filesOf(args[0])
	files, err := answer.Unpack(in[0].Name, in[0].Data)
	return handed(files), err
}

// handed hands files over to the page.
func handed(files []answer.File) map[string]any {
	out := []any{}
	for _, f := range files {
		data := js.Global().Get("Uint8Array").New(len(f.Data))
		js.CopyBytesToJS(data, f.Data)
		out = append(out, map[string]any{"name": f.Name, "data": data})
	}
	return map[string]any{"files": out}
}

func filesOf(v js.Value) []answer.File {
	files := make([]answer.File, v.Length())
	for i := range files {
		files[i] = answer.File{Name: v.Index(i).Get("name").String(), Data: bytesOf(v.Index(i).Get("data"))}
	}
	return files
}

func bytesOf(v js.Value) []byte {
	data := make([]byte, v.Length())
	js.CopyBytesToGo(data, v)
	return data
}

func textsOf(v js.Value) []string {
	out := make([]string, v.Length())
	for i := range out {
		out[i] = v.Index(i).String()
	}
	return out
}
