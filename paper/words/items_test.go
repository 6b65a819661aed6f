package words

import (
	"testing"

	"stallwright/engine/kit"
)

// itemsOf are the ids of everything a kit makes or buys.
func itemsOf(t *testing.T, k *kit.Kit) []string {
	t.Helper()
	var out []string
	add(&out, k.Channels, func(c *kit.Channel) string { return c.ID })
	add(&out, k.Posts, func(c *kit.Post) string { return c.ID })
	add(&out, k.Tubes, func(c *kit.Tube) string { return c.ID })
	add(&out, k.Brackets, func(c *kit.Bracket) string { return c.ID })
	add(&out, k.Clamps, func(c *kit.Clamp) string { return c.ID })
	add(&out, k.Grilles, func(c *kit.Grille) string { return c.ID })
	add(&out, k.Windows, func(c *kit.Window) string { return c.ID })
	add(&out, k.Feeders, func(c *kit.Feeder) string { return c.ID })
	add(&out, k.Doors, func(c *kit.Door) string { return c.ID })
	add(&out, k.Bases, func(c *kit.Base) string { return c.ID })
	add(&out, k.Fasteners, func(c *kit.Fastener) string { return c.ID })
	add(&out, k.Parts, func(c *kit.Part) string { return c.ID })
	for _, id := range out {
		if _, ok := k.Item(id); !ok {
			t.Errorf("the kit %s does not know %s", k.Kit, id)
		}
	}
	return out
}

func add[T any](out *[]string, items []T, id func(*T) string) {
	for i := range items {
		*out = append(*out, id(&items[i]))
	}
}
