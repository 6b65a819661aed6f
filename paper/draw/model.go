package draw

import "stallwright/engine/measure"

// What back-ends that write model space need to know of a drawing.

// LayerOf is the layer an item is painted on; "" for what is not painted.
func LayerOf(it Item) string { return it.layer() }

// Extents is the least model rectangle round everything to be drawn; ok is false
// where there is nothing.
func (d *Drawing) Extents() (lo, hi Point, ok bool) { return d.extents() }

// Check reports the first item that cannot be drawn.
func (d *Drawing) Check() error { return d.check() }

// SpanText is what span i of the dimension says.
func (d *Dim) SpanText(i int, sys measure.System) string { return d.text(i, sys) }

// Span is the exact length of span i, to the nearest nanometre for Along.
func (d *Dim) Span(i int) measure.Length { return d.span(i) }

// Lines splits text at its line feeds and makes each line safe to print.
func Lines(text string) []string { return lines(text) }

// Width is how wide a line of text is whose capitals are h high.
func (f Face) Width(line string, h Micron) Micron { return f.measure(clean(line), h).Width }

// Vector is the direction of an angle, its length being VectorOne.
func (a Angle) Vector() (x, y int64) { return a.vector() }

// VectorOne is the length of the vectors that Vector returns.
const VectorOne int64 = trigOne
