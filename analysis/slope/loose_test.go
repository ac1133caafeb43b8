package slope_test

import (
	"math"
	"testing"

	"runnel/analysis/geometry/shape"
	"runnel/analysis/slope"
	"runnel/analysis/standard"
)

// By hand: 63 spots stand off a plane of 3 % to one side and the other, as the squares of a chessboard. With errors e, of 5 mm as stated and 1.5 mm of levelling, the squares of what n spots are off, over n - 3 degrees of freedom, may pass e2 by four standard deviations: by 1 + 4 root(2/60) = 1.730 for 63, so up to 6.70 mm in the root mean square.
func TestPlaneThatIsNone(t *testing.T) {
	loose, tried := 0, 0
	for r := 0.0050; r < 0.0070; r += 0.00005 {
		roof := shape.New("chess", shape.Bare(0, 0), shape.Bare(18, 0), shape.Bare(18, 14), shape.Bare(0, 14))
		i := 0
		shape.Grid(roof, 1, 1, 17, 13, 8, 6, func(_, y float64) float64 {
			i++
			return 0.03*y + r*float64(1-2*(i%2))
		})
		for k := range roof.Spots {
			roof.Spots[k].Sigma = 0.005
		}
		got, err := slope.Of(shape.Build(t, roof), roof, standard.Defaults())
		if err != nil {
			t.Fatal(err)
		}
		p := &got.Planes[0]
		if p.Spots != 63 { // some stand too far off to be of it
			continue
		}
		tried++
		if want := p.Residual > math.Sqrt((1+4*math.Sqrt(2.0/60))*(0.005*0.005+0.0015*0.0015)*60/63); p.Loose != want {
			t.Errorf("%g m off: loose %t", p.Residual, p.Loose)
		}
		if p.Loose {
			loose++
		}
	}
	if loose < 5 || tried-loose < 5 {
		t.Errorf("%d of %d planes are loose", loose, tried)
	}
}
