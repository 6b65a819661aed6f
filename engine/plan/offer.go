package plan

import (
	"context"

	"stallwright/engine/build"
	"stallwright/engine/price"
)

// Offer prices the plan by a book. days are the crew days, where they were worked
// out already; nil: they are worked out here if the book pays days. The error is
// document.Problems where the book does not go with the job.
func (p *Plan) Offer(ctx context.Context, b *price.Book, days *build.Days) (*price.Offer, error) {
	if days == nil && b.Labour != nil && b.Labour.Paid == price.PaidDays {
		var err error
		if days, err = p.Days(ctx, 0); err != nil {
			return nil, err
		}
	}
	return price.Make(price.Input{Job: p.Job, Kit: p.Kit, Layout: p.Layout, Takeoff: p.Takeoff, Build: p.Build, Days: days}, b)
}
