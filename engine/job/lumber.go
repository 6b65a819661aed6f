package job

import (
	"stallwright/engine/document"
	"stallwright/engine/measure"
)

// Lumber is the boards: species, treatment, and how they are milled.
type Lumber struct {
	document.Where `yaml:"-" json:"-"`

	Species   Species         `yaml:"species,required" doc:"southern-pine, douglas-fir-larch, spruce-pine-fir, or other with its density"`
	Density   measure.Density `yaml:"density" doc:"density as loaded; worked out from the species where left out"`
	Moisture  int             `yaml:"moisture" min:"0" max:"40" doc:"moisture content as loaded, in percent; 15 where left out"`
	Wettest   int             `yaml:"moisture_most" min:"0" max:"60" doc:"highest moisture content the boards may reach in use, in percent; 19 where left out"`
	Treatment string          `yaml:"treatment" doc:"use category of the treated boards, as UC3B"`
	Nominal   Nominal         `yaml:"nominal" doc:"nominal size; 2x6 where left out"`
	Thickness measure.Length  `yaml:"thickness" doc:"real thickness; the dressed size of the nominal where left out"`
	Coverage  measure.Length  `yaml:"coverage" doc:"face covered by one board, tongue not counted"`
	TenBoards measure.Length  `yaml:"ten_boards" doc:"face covered by ten boards pushed together, tongue not counted, measured on the stack; better than coverage"`
	Tongue    measure.Length  `yaml:"tongue,required" doc:"how far the tongue stands out"`
	Yard      string          `yaml:"yard" doc:"the lumber yard's list: a path to its file beside the job; in place of lengths"`
	Grade     string          `yaml:"grade" doc:"grade of the boards, as the yard's list names it; needed only where it sells several"`
	Lengths   []Sold          `yaml:"lengths" min:"1" doc:"lengths the yard sells: a length alone, or with its price and how many there are; needed where no yard is named"`
	Treated   []Sold          `yaml:"treated_lengths" min:"1" doc:"the same of treated boards, where they differ"`
	Offcuts   []Offcut        `yaml:"offcuts" doc:"boards left over, paid for already"`
	Defects   int             `yaml:"defects" min:"0" max:"50" doc:"boards in a hundred too bad to use, of this species and grade: so many more are ordered"`
	Tolerance measure.Length  `yaml:"tolerance" doc:"how much longer than drawn the boards of an opening may turn out: what is drawn is ordered to be safe against it"`
	AtOnce    *int            `yaml:"at_once" min:"0" max:"100000" doc:"openings that may turn out longer at once; the square root of their number where left out"`
	Delivered []Delivered     `yaml:"delivered" doc:"boards of the order that came: they are cut, and only what is missing is bought"`
	Sawn      []Sawn          `yaml:"sawn" doc:"boards that went through the saw, right or wrong, in the order it was written down"`

	Supply *Supply // the yard that sells Lengths and Treated; nil where the job states them
}

// Supply is a yard's list as a job takes boards from it.
type Supply struct {
	Yard        string // its name
	Currency    string // of its prices, by ISO 4217
	Dated       string // as 2026-05-04
	Until       string // how long its prices hold; empty where nobody said
	Lead        int    // days from order to delivery, of what is sold
	LeadTreated int    // of treated boards
	// Untreated says that the yard sells no treated boards, so that Treated holds
	// the untreated ones' lengths.
	Untreated bool
}

// Sells is the lengths, prices and numbers of treated or of untreated boards.
func (l *Lumber) Sells(treated bool) []Sold {
	if treated && len(l.Treated) > 0 {
		return l.Treated
	}
	return l.Lengths
}

// Species is a species group of the grading rules.
type Species string

// The species groups.
const (
	SouthernPine    Species = "southern-pine"
	DouglasFirLarch Species = "douglas-fir-larch"
	SprucePineFir   Species = "spruce-pine-fir"
	OtherSpecies    Species = "other"
)

// Allowed lists the species groups.
func (Species) Allowed() []string {
	return []string{"southern-pine", "douglas-fir-larch", "spruce-pine-fir", "other"}
}

// Nominal is a nominal board size.
type Nominal string

// Allowed lists the nominal sizes.
func (Nominal) Allowed() []string { return []string{"2x6", "2x8"} }

// gravity is the species group's specific gravity in hundredths, on oven-dry
// weight and volume (NDS 2018 Table 12.3.3A; from memory).
var gravity = map[Species]int64{SouthernPine: 55, DouglasFirLarch: 50, SprucePineFir: 42}

// dressed is the dressed dry thickness of a nominal 2 in board: 1 1/2 in
// (American Softwood Lumber Standard PS 20, Table 4 as reprinted in Tennessee
// Reg. 0080-07-07-.06).
const dressed = measure.Inch + measure.Inch/2

// face is the covered face of tongue-and-groove decking by nominal size: 5 in
// for 2x6 and 6 3/4 in for 2x8 (WWPA grading rules after PS 20; second-hand,
// from memory). Mills differ, so a job should measure ten boards.
var face = map[Nominal]measure.Length{"2x6": 5 * measure.Inch, "2x8": 6*measure.Inch + 3*measure.Inch/4}

// Board is one board's real section.
type Board struct {
	Nominal   Nominal
	Thickness measure.Length
	Coverage  measure.Length // face covered by one board
	Tongue    measure.Length // how far the tongue stands out
	Density   measure.Density
	Measured  bool   // coverage measured on the stack or stated, not from a table
	Source    string // where the coverage comes from

	tenBoards bool   // coverage from ten boards
	at        string // where the coverage is stated
}

// Board works out the real section from what the job states.
func (l *Lumber) Board() Board {
	b := Board{Nominal: l.Nominal, Thickness: l.Thickness, Tongue: l.Tongue, Density: l.Density}
	if b.Nominal == "" {
		b.Nominal = "2x6"
	}
	if b.Thickness == 0 {
		b.Thickness = dressed
	}
	switch {
	case l.TenBoards != 0:
		b.Coverage, b.Measured = l.TenBoards/10, true
		b.tenBoards, b.at = true, l.Of("ten_boards").String()
		b.Source = "a tenth of ten boards measured on the stack (" + l.Of("ten_boards").String() + ")"
	case l.Coverage != 0:
		b.Coverage, b.Measured = l.Coverage, true
		b.at = l.Of("coverage").String()
		b.Source = "lumber.coverage (" + l.Of("coverage").String() + ")"
	default:
		b.Coverage = face[b.Nominal]
		b.Source = "grading rules' face for " + string(b.Nominal) + " tongue and groove (second-hand)"
	}
	if b.Density == 0 {
		b.Density = woodDensity(gravity[l.Species], int64(l.loaded()))
	}
	return b
}

// loaded is the moisture content as loaded, in percent.
func (l *Lumber) loaded() int {
	if l.Moisture == 0 && !l.Has("moisture") {
		return 15
	}
	return l.Moisture
}

// woodDensity is the density at the given moisture content, from the specific
// gravity on oven-dry weight and volume:
//
//	ρ = 1000 kg/m³ · G / (1 + G·0.009·M) · (1 + M/100)
//
// G in hundredths, M in percent (NDS 2018 Commentary, density at a moisture
// content; from memory).
func woodDensity(g, m int64) measure.Density {
	if g == 0 {
		return 0
	}
	kg := int64(measure.KilogramPerCubicMetre)
	rho, ok := measure.MulDiv(g*(100+m)*10_000, kg, 100_000+9*g*m, measure.Nearest)
	if !ok {
		return 0
	}
	return measure.Density(rho)
}
