package packet

import "stallwright/engine/plan"

func drawings(*plan.Plan, string) ([]File, error) { return nil, nil }

// drawingFolder holds the drawings.
const drawingFolder = "drawings"
