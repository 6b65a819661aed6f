package search

import (
	"context"
	"math"
)

// Short names an item that the limited boards of an infeasible instance do not
// reach, and about how many of its pieces are left over (zero when a count
// would say nothing: the shortage shows in whole boards only).
func Short(ctx context.Context, in *Instance, opt Options) (item int, pieces int64) {
	free := *in
	free.Stock = append([]Stock(nil), in.Stock...)
	for i := range free.Stock {
		free.Stock[i].Cost = 0
	}
	free.Credit = Credit{}
	s := newSolver(ctx, &free, opt)
	s.bigM = 1
	ms := s.newMaster(s.root())
	ms.solve(math.MaxInt64, guess)
	most := 0.0
	for i := range in.Len {
		if x := ms.lp.Value(i); x > most+1e-6 {
			item, most = i, x
		}
	}
	return item, int64(math.Round(most))
}
