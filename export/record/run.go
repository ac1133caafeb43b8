package record

// Run is the call that made a roof's files, so that it can be made again. Paths are written with slashes, as they
// are reached from the folder of the files; the folder itself and what changes no file are left out.
type Run struct {
	Command string   `json:"command"`         // check, storm or campus
	Files   []string `json:"files"`           // as given, in order; of campus also folders
	Flags   []string `json:"flags,omitempty"` // as --name=value, by name
}

// Object returns the properties of r.
func (r *Run) Object() *Object {
	var o Object
	o.Text("command", r.Command)
	o.Texts("files", r.Files)
	o.Texts("flags", r.Flags)
	return &o
}
