package build

// Keys lists the messages that are put together from an operation's kind or a
// tool's key, so that they stand in no other line of the program.
func Keys() []string {
	return []string{
		"build.tool-tape", "build.tool-string", "build.tool-stakes", "build.tool-hammer", "build.tool-level", "build.tool-laser", "build.tool-square",
		"build.tool-pencil", "build.tool-auger", "build.tool-shovel", "build.tool-mixer", "build.tool-mallet", "build.tool-trestles", "build.tool-props",
		"build.tool-driver", "build.tool-drill", "build.tool-drill-bit", "build.tool-wrench", "build.tool-hammer-drill", "build.tool-masonry-bit",
		"build.tool-saw", "build.tool-metal-saw", "build.tool-file", "build.tool-zinc", "build.tool-ladder", "build.tool-lifting-aid", "build.tool-clamp-key",

		"build.kind-set-out", "build.kind-mark", "build.kind-pour", "build.kind-seat", "build.kind-lay-out", "build.kind-bolt", "build.kind-stand",
		"build.kind-move", "build.kind-pin", "build.kind-brace", "build.kind-lag", "build.kind-level", "build.kind-square", "build.kind-tighten",
		"build.kind-anchor", "build.kind-unbrace", "build.kind-measure", "build.kind-cut", "build.kind-load", "build.kind-trim", "build.kind-capture",
		"build.kind-fit", "build.kind-fasten", "build.kind-clamp", "build.kind-roof", "build.kind-track", "build.kind-rollers", "build.kind-hang",
		"build.kind-adjust", "build.kind-handle", "build.kind-check", "build.kind-loosen", "build.kind-unload", "build.kind-unhang",
	}
}

// Key is the message that names a kind of work.
func (k Kind) Key() string { return "build.kind-" + string(k) }
