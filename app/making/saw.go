package making

import (
	"context"
	"crypto/sha256"

	"stallwright/app/record"
	"stallwright/app/sawing"
)

// sawed is what was left to cut when it was last asked for.
type sawed struct {
	sum  [sha256.Size]byte // of the records
	left []sawing.Material
}

// Remaining is what is left to cut after the boards of cuts. It is worked out anew
// only when another board was cut.
func (v *Made) Remaining(ctx context.Context, cuts []record.Record) (left []sawing.Material, err error) {
	h := sha256.New()
	for i := range cuts {
		line, err := cuts[i].Line()
		if err != nil {
			return nil, err
		}
		part(h, string(line))
	}
	var sum [sha256.Size]byte
	h.Sum(sum[:0])
	if left, ok := v.sawn(sum); ok {
		return left, nil
	}
	free, err := v.slot(ctx)
	if err != nil {
		return nil, err
	}
	defer free()
	defer guard(&err)
	if left, ok := v.sawn(sum); ok {
		return left, nil
	}
	left = sawing.Remaining(v.Plan.Takeoff.Cuts, cuts)
	v.mu.Lock()
	defer v.mu.Unlock()
	v.saw = sawed{sum, left}
	return left, nil
}

func (v *Made) sawn(sum [sha256.Size]byte) ([]sawing.Material, bool) {
	v.mu.Lock()
	defer v.mu.Unlock()
	return v.saw.left, v.saw.left != nil && v.saw.sum == sum
}
