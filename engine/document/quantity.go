package document

import (
	"reflect"

	"stallwright/engine/measure"
)

// describe is what a type says about itself, or what is known of quantities.
func describe(self any) Description {
	if d, ok := self.(Describer); ok {
		return d.Describe()
	}
	return quantities[reflect.TypeOf(self).Elem()]
}

// inUnits says whether a type takes no number without a unit.
func inUnits(t reflect.Type) bool {
	_, ok := quantities[t]
	return ok && t != reflect.TypeFor[measure.System]()
}

// quantities describes the types of package measure to the schema.
var quantities = map[reflect.Type]Description{
	reflect.TypeFor[measure.Length]():        {Doc: "a length with its unit", Examples: []string{"12'", `11' 7 5/8"`, "3540 mm", "3.54 m"}},
	reflect.TypeFor[measure.Mass]():          {Doc: "a mass with its unit", Examples: []string{"12.5 lb", "5.4 kg"}},
	reflect.TypeFor[measure.MassPerLength](): {Doc: "a mass per length with its unit", Examples: []string{"3.05 lb/ft", "4.5 kg/m"}},
	reflect.TypeFor[measure.Density]():       {Doc: "a density with its unit", Examples: []string{"35 lb/ft3", "560 kg/m3"}},
	reflect.TypeFor[measure.Area]():          {Doc: "an area with its unit", Examples: []string{"144 ft2", "13.4 m2"}},
	reflect.TypeFor[measure.Volume]():        {Doc: "a volume with its unit", Examples: []string{"0.6 ft3", "17 litres"}},
	reflect.TypeFor[measure.Force]():         {Doc: "a force with its unit", Examples: []string{"305 lbf", "1.36 kN"}},
	reflect.TypeFor[measure.Angle]():         {Doc: "an angle in degrees", Examples: []string{"22.5°", "12° 30'"}},
	reflect.TypeFor[measure.Slope]():         {Doc: "a rise over a run", Examples: []string{"4:12", "2 %", "18.4°"}},
	reflect.TypeFor[measure.System]():        {Doc: "a system of measurement", Examples: []string{"feet", "metric"}},
}
