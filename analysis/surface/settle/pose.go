package settle

import (
	"runnel/analysis/geometry"
	"runnel/analysis/geometry/pose"
	"runnel/analysis/roof"
)

// poseOf returns how a roof lies on its grid: by its outline, else by its spots in plan and how high they are, else by what stands on it. x, y and z
// are those of the spots that may be on the roof, in grid units.
func poseOf(r *roof.Roof, x, y, z []int32) pose.Pose {
	f := pose.NewFinder()
	ring := r.Outline.Rings[0]
	tell := func(line []roof.Position) {
		x, y := onGrid(line)
		f.Tell(x, y, nil)
	}
	tell(ring[1:]) // its last point is its first again
	f.Tell(x, y, pose.Heights(z))
	f.TellMarks(x, y, z)
	var marks []uint8
	x, y = nil, nil
	for i := range r.Outlets {
		o := &r.Outlets[i]
		x, y = append(x, geometry.OnGrid(o.Plan[0])), append(y, geometry.OnGrid(o.Plan[1]))
		marks = append(marks, 1+uint8(o.Type)<<4+uint8(o.Duty))
	}
	f.Tell(x, y, marks)
	for i := range r.Curbs {
		if ring := r.Curbs[i].Ring; len(ring) > 0 {
			tell(ring[1:])
		}
	}
	for i := range r.Breaklines {
		tell(r.Breaklines[i].Line)
	}
	return f.Pose()
}

// onGrid returns the places of a line in grid units.
func onGrid(line []roof.Position) (x, y []int32) {
	x, y = make([]int32, len(line)), make([]int32, len(line))
	for i := range line {
		x[i], y[i] = geometry.OnGrid(line[i].Plan[0]), geometry.OnGrid(line[i].Plan[1])
	}
	return x, y
}
