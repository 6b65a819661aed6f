package page

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"stallwright/app/shop"
	"stallwright/engine/job"
	"stallwright/engine/kit"
	"stallwright/engine/price"
	"stallwright/engine/yard"
)

// Choices are what a new job can begin with.
type Choices struct {
	Starters []string    `json:"starters"`
	Kits     []KitChoice `json:"kits"`
}

// KitChoice is a kit with what it offers.
type KitChoice struct {
	Name    string   `json:"name"`
	Title   string   `json:"title"`
	Units   string   `json:"units"`
	Doors   []Choice `json:"doors"`
	Grilles []Choice `json:"grilles"`
	Windows []Choice `json:"windows"`
	Feeders []Choice `json:"feeders"`
}

// Choice is one thing of a kit.
type Choice struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	Kind string `json:"kind,omitempty"`
}

func choices(a *Asked) (any, error) {
	c := &Choices{Starters: job.StarterNames()}
	for _, name := range kit.ShippedNames() {
		file, src, _ := kit.Shipped(name)
		k, err := kit.Read(file, src)
		if err != nil {
			return nil, err
		}
		c.Kits = append(c.Kits, offers(k))
	}
	for _, name := range slices.Sorted(maps.Keys(a.Shop)) {
		kind, file, _ := strings.Cut(name, "/")
		if kind != string(shop.Kits) {
			continue
		}
		if k, err := readKit(file, a.Shop[name]); err == nil { // one with mistakes is for the shop to tell
			own := offers(k)
			own.Name = "./" + file // as jobs name it
			c.Kits = append(c.Kits, own)
		}
	}
	return c, nil
}

// kitChoices are those of the kit that a job uses.
func kitChoices(a *Asked) (any, error) {
	j, err := job.Read("job.yaml", []byte(a.Job))
	if err != nil {
		return nil, err
	}
	k, err := a.kit(j)
	if err != nil {
		return nil, err
	}
	return offers(k), nil
}

func offers(k *kit.Kit) KitChoice {
	c := KitChoice{Name: k.Kit, Title: k.Title, Units: k.Units.String()}
	for i := range k.Doors {
		c.Doors = append(c.Doors, Choice{k.Doors[i].ID, k.Doors[i].Name, string(k.Doors[i].Kind)})
	}
	for i := range k.Grilles {
		c.Grilles = append(c.Grilles, Choice{ID: k.Grilles[i].ID, Name: k.Grilles[i].Name})
	}
	for i := range k.Windows {
		c.Windows = append(c.Windows, Choice{ID: k.Windows[i].ID, Name: k.Windows[i].Name})
	}
	for i := range k.Feeders {
		c.Feeders = append(c.Feeders, Choice{ID: k.Feeders[i].ID, Name: k.Feeders[i].Name})
	}
	return c
}

// starter gives the text of a job to begin with, or of a price book (prices), a yard's
// list (yard), a shipped kit (kit fernhollow).
func starter(a *Asked) (any, error) {
	switch name, own := strings.CutPrefix(a.About, "kit "); {
	case a.About == "prices":
		return string(price.Starter()), nil
	case a.About == "yard":
		return string(yard.Starter()), nil
	case own:
		if _, src, ok := kit.Shipped(name); ok {
			return string(src), nil
		}
	}
	text, ok := job.Starter(a.About)
	if !ok {
		return nil, fmt.Errorf("there is no starter %q; there are %s", a.About, strings.Join(job.StarterNames(), ", "))
	}
	return string(text), nil
}
