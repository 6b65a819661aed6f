package document_test

import (
	"fmt"

	"stallwright/engine/document"
	"stallwright/engine/measure"
)

// order is the document the tests read: one of every kind of field.
type order struct {
	document.Where `yaml:"-"`

	Name    string                    `yaml:"name,required" doc:"what the order is called"`
	Notes   string                    `yaml:"notes"`
	Rooms   []room                    `yaml:"rooms,required" min:"1" doc:"what is built"`
	Heights map[string]measure.Length `yaml:"heights"`
	Counts  map[kindOfRoom]int        `yaml:"counts"`
	Crew    *crew                     `yaml:"crew"`
}

type room struct {
	document.Where `yaml:"-"`

	Name    string                           `yaml:"name,required"`
	Width   measure.Length                   `yaml:"width,required" doc:"clear width"`
	Kind    kindOfRoom                       `yaml:"kind"`
	Doors   int                              `yaml:"doors" min:"0" max:"3"`
	Lit     bool                             `yaml:"lit"`
	Spacing document.Several[measure.Length] `yaml:"spacing"`
	Play    measure.Length                   `yaml:"play" unit:"mm" doc:"end play"`
	Left    tapes                            `yaml:"left"`
	Plate   plate                            `yaml:"plate"`
}

// Validate refuses a room too narrow for its doors.
func (r *room) Validate(to *document.Reporter, path string) {
	if need := measure.Length(r.Doors) * 4 * measure.Foot; r.Width < need {
		to.Add(r.Of("doors"), path+".doors", fmt.Sprint(r.Doors),
			fmt.Sprintf("%d doors do not fit into %v", r.Doors, r.Width), "make the room wider, or leave doors out")
	}
}

type kindOfRoom string

func (kindOfRoom) Allowed() []string { return []string{"stall", "wash-bay", "tack-room"} }

// tapes is one reading, a list of them, or a group of them.
type tapes struct {
	document.Where `yaml:"-"`

	Top    measure.Length `yaml:"top"`
	Bottom measure.Length `yaml:"bottom"`
	all    []measure.Length
}

func (t *tapes) FromScalar(text string) error {
	l, err := measure.ParseLength(text, measure.NoUnit)
	*t = tapes{all: []measure.Length{l}}
	return err
}

func (t *tapes) ListInto() any { return &t.all }

// plate reads itself, with an error that has a hint of its own.
type plate struct{ text string }

func (p *plate) UnmarshalText(text []byte) error {
	if len(text) > 20 {
		return plateError(text)
	}
	p.text = string(text)
	return nil
}

func (plate) Describe() document.Description {
	return document.Description{Doc: "the text on the door", Pattern: "^.{0,20}$", Examples: []string{"12:30", "no"}}
}

type plateError string

func (e plateError) Error() string {
	return fmt.Sprintf("%d characters do not fit on the plate", len(e))
}
func (e plateError) Hint() string { return "use at most 20" }

type crew struct {
	People int `yaml:"people,required" min:"1"`
}
