// Package draw is the drafting layer: it turns a drawing in model lengths into
// sheets true to scale, after drafting practice, and prints the sheets as SVG.
//
// In comes a [Drawing]: lines, polygons, arcs, fixed notes, dimensions and
// labels in model space (exact [measure.Length], y up). [Lay] chooses a
// standard scale at which the drawing and its dimensions fit a [Page], places
// dimension text and labels, adds title block, notes, scale bar and key, and
// gives a [Sheet].
//
// A sheet is a flat display list of three kinds of [Mark] in paper space
// (whole micrometres, origin at the lower left corner of the trimmed sheet, y
// up): [Stroke], [Curve] and [Text]. Hatches, dimensions, leaders and arrow
// heads are already resolved into these, so that a back-end (SVG here; PDF,
// DXF elsewhere) needs to know nothing of drafting. A back-end that writes
// model space reads [Drawing.Items] for exact geometry and [Placed.ToModel] for
// the rest.
//
// What always holds of a sheet that Lay returned:
//
//   - no two text boxes overlap and none leaves the frame ([Overlaps] and
//     [Outside] check it independently); what cannot be placed is an error,
//     never a clash;
//   - every point lies within half a micrometre in x and in y of its true
//     place at the scale named on the sheet;
//   - nothing is coloured and no text is lower than 2.5 mm, so that a
//     photocopy at arm's length can still be read;
//   - the same input gives the same bytes on every platform.
//
// # Drafting practice followed
//
// Widths of lines 0.18, 0.25, 0.35, 0.5, 0.7 mm: ISO 128-2 (second-hand).
// Line types and the lengths of their elements: ISO 128-2 (from memory).
// Heights of text 2.5, 3.5, 5, 7 mm and line spacing 1.5 h: ISO 3098-0
// (second-hand). Dimensions: ISO 129-1 (from memory): thin extension and
// dimension lines, 8 line widths of gap and overshoot, oblique strokes or
// arrow heads, text above its line, read from below or from the right.
// Leaders ending in a dot inside an area or an arrow on an outline: ISO 128-2
// (from memory). Metric scales: ISO 5455 (second-hand). Data in the title
// block and its width of 180 mm: ISO 7200 (from memory).
package draw
