package study

import (
	"runnel/analysis/halt"
	"runnel/analysis/roof"
)

// Sight is the first part of Run: the surface, its ponds and which of them are listed, with the evidence for each. That is what a drawing of the
// water shows, and comes soonest. Go adds the rest. The error is that of Run.
func Sight(r *roof.Roof, o Options) (*Study, error) {
	return begun(r, o, func(s *Study, _ *timer) error {
		if err := s.ponds(); err != nil {
			return err
		}
		s.judge()
		return nil
	})
}

// Go makes of a study that Sight began what Run would have made of its roof. o are the options of Sight. Once, and not after an error.
func (s *Study) Go(o Options) (err error) {
	defer s.release()
	defer halt.Caught(&err)
	s.Surface.TIN.Halt, s.Surface.Cut.Halt = halt.Of(o.Context), halt.Of(o.Context)
	t := s.timer(o)
	t.start()
	if err = s.slopes(o); err != nil {
		return err
	}
	return s.finish(o, t)
}
