package gltf

// The parts of the JSON chunk that we write, in the names of the specification
// (glTF 2.0, chapter 5).
type document struct {
	Asset       asset        `json:"asset"`
	Scene       int          `json:"scene"`
	Scenes      []sceneList  `json:"scenes"`
	Nodes       []node       `json:"nodes"`
	Meshes      []mesh       `json:"meshes,omitempty"`
	Materials   []material   `json:"materials,omitempty"`
	Accessors   []accessor   `json:"accessors,omitempty"`
	BufferViews []bufferView `json:"bufferViews,omitempty"`
	Buffers     []buffer     `json:"buffers,omitempty"`
}

type asset struct {
	Version   string `json:"version"`
	Generator string `json:"generator"`
}

type sceneList struct {
	Name  string `json:"name"`
	Nodes []int  `json:"nodes"`
}

type node struct {
	Name        string      `json:"name"`
	Children    []int       `json:"children,omitempty"`
	Mesh        *int        `json:"mesh,omitempty"`
	Translation *[3]float64 `json:"translation,omitempty"`
	Rotation    *[4]float64 `json:"rotation,omitempty"`
	Extras      *extras     `json:"extras,omitempty"`
}

// extras tell what a node stands for.
type extras struct {
	Item   string `json:"item,omitempty"`   // id in the kit, or board
	Kind   string `json:"kind,omitempty"`   // of the piece; hardware where it is none
	Length int64  `json:"length,omitempty"` // of the piece, in nanometres
}

type mesh struct {
	Name       string      `json:"name,omitempty"`
	Primitives []primitive `json:"primitives"`
}

type primitive struct {
	Attributes attributes `json:"attributes"`
	Indices    int        `json:"indices"`
	Material   int        `json:"material"`
}

type attributes struct {
	Position int `json:"POSITION"`
	Normal   int `json:"NORMAL"`
}

type material struct {
	Name string `json:"name"`
	PBR  pbr    `json:"pbrMetallicRoughness"`
}

type pbr struct {
	Colour    [4]float64 `json:"baseColorFactor"`
	Metallic  float64    `json:"metallicFactor"`
	Roughness float64    `json:"roughnessFactor"`
}

type accessor struct {
	BufferView    int       `json:"bufferView"`
	ComponentType int       `json:"componentType"`
	Count         int       `json:"count"`
	Type          string    `json:"type"`
	Min           []float64 `json:"min,omitempty"`
	Max           []float64 `json:"max,omitempty"`
}

type bufferView struct {
	Buffer     int `json:"buffer"`
	ByteOffset int `json:"byteOffset"`
	ByteLength int `json:"byteLength"`
	Target     int `json:"target"`
}

type buffer struct {
	ByteLength int `json:"byteLength"`
}

// Numbers of the specification.
const (
	typeFloat  = 5126
	typeShort  = 5123 // unsigned
	typeInt    = 5125 // unsigned
	arrayData  = 34962
	indexData  = 34963
	mostShorts = 1 << 16
)
