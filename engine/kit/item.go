package kit

import (
	"maps"
	"slices"

	"stallwright/engine/document"
	"stallwright/engine/measure"
	"stallwright/engine/phrase"
)

// Class is what a component is, for lists a person orders and packs from.
type Class string

// The classes, in the order lists show them.
const (
	ClassChannel  Class = "channel"
	ClassPost     Class = "post"
	ClassTube     Class = "tube"
	ClassBracket  Class = "bracket"
	ClassGrille   Class = "grille"
	ClassDoor     Class = "door"
	ClassWindow   Class = "window"
	ClassFeeder   Class = "feeder"
	ClassClamp    Class = "clamp"
	ClassPart     Class = "part"
	ClassBase     Class = "base"
	ClassFastener Class = "fastener"
)

// Item is any component of the kit, seen as something to count and carry.
type Item struct {
	ID    string
	Name  string
	Class Class
	Kind  string                // for fasteners: bolt, lag, screw, pin, anchor
	Mass  measure.Mass          // of one, where counted
	Per   measure.MassPerLength // per length, where cut
	Stock []measure.Length      // lengths bought, where cut
	With  []With                // what comes with each one
	Line  int                   // where the kit states it
	at    document.Pos          // where it states the id
}

// Item finds any component by its id.
func (k *Kit) Item(id string) (Item, bool) {
	it, ok := k.items[id]
	return it, ok
}

// ItemIDs lists the ids of all components in order.
func (k *Kit) ItemIDs() []string { return slices.Sorted(maps.Keys(k.items)) }

// register lists every component; dup is told of each id given twice.
func (k *Kit) register(dup func(it Item, path string)) {
	k.items = map[string]Item{}
	add := func(it Item, path string) {
		if it.ID == "" {
			return
		}
		if _, twice := k.items[it.ID]; twice {
			dup(it, path)
			return
		}
		k.items[it.ID] = it
	}
	for i, c := range k.Channels {
		add(Item{ID: c.ID, Name: c.Name, Class: ClassChannel, Per: c.Per, Stock: c.Stock, With: c.With, Line: c.Pos().Line, at: c.Of("id")}, at("channels", i))
	}
	for i, c := range k.Posts {
		add(Item{ID: c.ID, Name: c.Name, Class: ClassPost, Mass: c.Mass, Per: c.Per, With: c.With, Line: c.Pos().Line, at: c.Of("id")}, at("posts", i))
	}
	for i, c := range k.Tubes {
		add(Item{ID: c.ID, Name: c.Name, Class: ClassTube, Per: c.Per, Stock: c.Stock, Line: c.Pos().Line, at: c.Of("id")}, at("tubes", i))
	}
	for i, c := range k.Brackets {
		add(Item{ID: c.ID, Name: c.Name, Class: ClassBracket, Mass: c.Mass, Line: c.Pos().Line, at: c.Of("id")}, at("brackets", i))
	}
	for i, c := range k.Clamps {
		add(Item{ID: c.ID, Name: c.Name, Class: ClassClamp, Mass: c.Mass, Line: c.Pos().Line, at: c.Of("id")}, at("clamps", i))
	}
	for i, c := range k.Grilles {
		add(Item{ID: c.ID, Name: c.Name, Class: ClassGrille, Per: c.Per, Stock: c.Widths, With: c.With, Line: c.Pos().Line, at: c.Of("id")}, at("grilles", i))
	}
	for i, c := range k.Windows {
		add(Item{ID: c.ID, Name: c.Name, Class: ClassWindow, Mass: c.Mass, With: c.With, Line: c.Pos().Line, at: c.Of("id")}, at("windows", i))
	}
	for i, c := range k.Feeders {
		add(Item{ID: c.ID, Name: c.Name, Class: ClassFeeder, Mass: c.Mass, With: c.With, Line: c.Pos().Line, at: c.Of("id")}, at("feeders", i))
	}
	for i, c := range k.Doors {
		add(Item{ID: c.ID, Name: c.Name, Class: ClassDoor, Mass: c.Leaf.Mass, With: c.With, Line: c.Pos().Line, at: c.Of("id")}, at("doors", i))
	}
	for i, c := range k.Bases {
		add(Item{ID: c.ID, Name: c.Name, Class: ClassBase, Mass: c.Mass, With: c.With, Line: c.Pos().Line, at: c.Of("id")}, at("bases", i))
	}
	for i, c := range k.Fasteners {
		add(Item{ID: c.ID, Name: c.Name, Class: ClassFastener, Kind: string(c.Kind), Mass: c.Mass, Per: c.PerLength, Stock: c.Lengths, Line: c.Pos().Line, at: c.Of("id")}, at("fasteners", i))
	}
	for i, c := range k.Parts {
		add(Item{ID: c.ID, Name: c.Name, Class: ClassPart, Mass: c.Mass, Per: c.Per, Stock: c.Stock, With: c.With, Line: c.Pos().Line, at: c.Of("id")}, at("parts", i))
	}
}

// find returns the first element whose id it is.
func find[T any](list []T, id func(*T) string, want string) *T {
	for i := range list {
		if id(&list[i]) == want {
			return &list[i]
		}
	}
	return nil
}

// Channel finds a channel by id; nil when there is none. So do the methods
// below for their own kind.
func (k *Kit) Channel(id string) *Channel {
	return find(k.Channels, func(c *Channel) string { return c.ID }, id)
}

// Post finds a post.
func (k *Kit) Post(id string) *Post { return find(k.Posts, func(c *Post) string { return c.ID }, id) }

// Tube finds a tube.
func (k *Kit) Tube(id string) *Tube { return find(k.Tubes, func(c *Tube) string { return c.ID }, id) }

// Bracket finds a bracket.
func (k *Kit) Bracket(id string) *Bracket {
	return find(k.Brackets, func(c *Bracket) string { return c.ID }, id)
}

// Clamp finds a stack clamp.
func (k *Kit) Clamp(id string) *Clamp {
	return find(k.Clamps, func(c *Clamp) string { return c.ID }, id)
}

// Grille finds a grille.
func (k *Kit) Grille(id string) *Grille {
	return find(k.Grilles, func(c *Grille) string { return c.ID }, id)
}

// Window finds a window.
func (k *Kit) Window(id string) *Window {
	return find(k.Windows, func(c *Window) string { return c.ID }, id)
}

// Feeder finds a feeder.
func (k *Kit) Feeder(id string) *Feeder {
	return find(k.Feeders, func(c *Feeder) string { return c.ID }, id)
}

// Door finds a door.
func (k *Kit) Door(id string) *Door { return find(k.Doors, func(c *Door) string { return c.ID }, id) }

// Base finds what a post may stand on.
func (k *Kit) Base(id string) *Base { return find(k.Bases, func(c *Base) string { return c.ID }, id) }

// Fastener finds a fastener.
func (k *Kit) Fastener(id string) *Fastener {
	return find(k.Fasteners, func(c *Fastener) string { return c.ID }, id)
}

// Part finds a part.
func (k *Kit) Part(id string) *Part { return find(k.Parts, func(c *Part) string { return c.ID }, id) }

// Assembly finds an assembly.
func (k *Kit) Assembly(id string) *Assembly {
	return find(k.Assemblies, func(c *Assembly) string { return c.ID }, id)
}

// Called is what the kit calls one of its things, for a crew in any language; name
// is its own word for it.
func (k *Kit) Called(id, name string) phrase.Phrase {
	return phrase.Of("kit-"+k.Kit+"."+id, phrase.With("name", phrase.Name(name)))
}

// Line says where in the kit something stands: its path as the file has it, and the
// line; zero for a line that is not known.
func (k *Kit) Line(path string, line int) phrase.Phrase {
	kit, at := phrase.With("kit", phrase.Name(k.Kit)), phrase.With("path", phrase.Name(path))
	if line > 0 {
		return phrase.Of("source.kit-line", kit, at, phrase.With("line", phrase.Count(line)))
	}
	return phrase.Of("source.kit-path", kit, at)
}

// RowUse is what rows of the given kind are built of; nil when the kit makes
// none.
func (k *Kit) RowUse(kind string) *RowUse {
	switch kind {
	case "barn-row":
		return k.Uses.BarnRow
	case "free-row":
		return k.Uses.FreeRow
	case "free-barn":
		return k.Uses.FreeBarn
	}
	return nil
}
