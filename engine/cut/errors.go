package cut

import (
	"errors"
	"fmt"
)

// ErrBudget is returned when the work budget ends before any plan is found.
var ErrBudget = errors.New("no plan was found within the work budget; raise the budget")

func shortText(n int64) string {
	if n <= 0 {
		return "the boards to be had do not suffice for all pieces"
	}
	return fmt.Sprintf("the boards to be had do not suffice; about %d of its pieces are left over", n)
}
