package surface

func (s *Surface) layOutlets(d *draft) error { s.Cut = s.TIN; return nil }
func (s *Surface) checkCut() error           { return nil }
