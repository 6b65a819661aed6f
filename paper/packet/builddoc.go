package packet

// WorkDoc is the order of work.
type WorkDoc struct {
	Rules      []RuleDoc      `json:"rules"`
	Operations []OperationDoc `json:"operations"`
	Steps      []PageDoc      `json:"steps"`
	Aside      []string       `json:"set_aside,omitempty"`
}

// RuleDoc is a rule of precedence that the work hangs on.
type RuleDoc struct {
	ID     string `json:"id"`
	Says   string `json:"says"`
	Source string `json:"source"`
}

// OperationDoc is one thing a crew does.
type OperationDoc struct {
	ID        string    `json:"id"`
	Kind      string    `json:"kind"`
	Place     string    `json:"place"`
	Structure string    `json:"structure"`
	Do        string    `json:"do"`
	How       []string  `json:"how,omitempty"`
	Adds      []string  `json:"adds,omitempty"`
	Hardware  []UseDoc  `json:"hardware,omitempty"`
	Tools     []ToolDoc `json:"tools,omitempty"`
	People    int       `json:"people"`
	Minutes   int       `json:"minutes"`
	MinutesBy string    `json:"minutes_by,omitempty"` // common practice where left out
	CureMin   int       `json:"cure_minutes,omitempty"`
	Lift      *LiftDoc  `json:"lift,omitempty"`
	Check     *CheckDoc `json:"check,omitempty"`
	Cautions  []string  `json:"cautions,omitempty"`
	After     []WaitDoc `json:"after,omitempty"`
	Step      int       `json:"step"`
	Done      bool      `json:"done,omitempty"`
}

// UseDoc is hardware that an operation takes.
type UseDoc struct {
	Item     string `json:"item"`
	Count    int    `json:"count"`
	Length   string `json:"length,omitempty"`
	LengthNM int64  `json:"length_nm,omitempty"`
	Post     string `json:"post,omitempty"`
}

// ToolDoc is a tool; its size where it comes in sizes.
type ToolDoc struct {
	Tool   string `json:"tool"`
	Size   string `json:"size,omitempty"`
	SizeNM int64  `json:"size_nm,omitempty"`
}

// LiftDoc is the heaviest thing an operation handles.
type LiftDoc struct {
	Piece   string `json:"piece,omitempty"`
	MassUG  int64  `json:"mass_ug"`
	CarryUG int64  `json:"carry_ug"`
	People  int    `json:"people"`
	Aid     bool   `json:"aid,omitempty"`
}

// CheckDoc is what to measure when an operation is done.
type CheckDoc struct {
	What    string `json:"what"`
	Value   string `json:"value,omitempty"`
	ValueNM int64  `json:"value_nm,omitempty"`
	LeastNM int64  `json:"least_nm,omitempty"`
	MostNM  int64  `json:"most_nm,omitempty"`
	Basis   string `json:"basis,omitempty"`
}

// WaitDoc is an operation that comes before, by its place in operations from 0, and
// the rule that says so.
type WaitDoc struct {
	Operation int    `json:"operation"`
	Rule      string `json:"rule"`
}

// PageDoc is a step: what one page shows.
type PageDoc struct {
	No         int    `json:"no"`
	Title      string `json:"title"`
	Place      string `json:"place"`
	From       int    `json:"from"` // its first operation, from 0
	Operations int    `json:"operations"`
	Like       int    `json:"like,omitempty"`
	Done       bool   `json:"done,omitempty"`
}
