package simulation

import "slices"

// Reading is a quantity of an event, such as the load variation on a braked bump.
type Reading struct{ Event, Quantity int }

// Readings are those of all events.
var Readings []Reading

func init() {
	for i := range Events {
		for _, q := range Events[i].Has {
			Readings = append(Readings, Reading{i, q})
		}
	}
}

// Name joins event and quantity: bump_braked_load_pct.
func (r Reading) Name() string { return Events[r.Event].Name + "_" + Quantities[r.Quantity].Name }

// Of is the value that outcomes have, or why they have none.
func (r Reading) Of(all *Results) (value float64, why string) {
	o := &all[r.Event]
	return o.Values[r.Quantity], o.Known(r.Quantity)
}

// ReadingNamed finds a reading by name.
func ReadingNamed(name string) (r Reading, known bool) {
	i := slices.IndexFunc(Readings, func(r Reading) bool { return r.Name() == name })
	if i < 0 {
		return Reading{}, false
	}
	return Readings[i], true
}
