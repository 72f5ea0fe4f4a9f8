package tables

import "forkfront/results/table"

// contactFields say between which parts and where clearance_mm occurs; NULL where there is no clearance.
func contactFields() []frontField {
	return []frontField{
		contact(table.Column{Name: "clearance_pair", Doc: "the two parts with the smallest gap, clearance_mm", Kind: table.Text}, func(w *table.Writer, col int, r *frontRow) {
			w.Text(col, r.score.Closest.Pair)
		}),
		contact(table.Column{Name: "clearance_travel_mm", Unit: "mm", Doc: "travel at which clearance_mm occurs", Kind: table.Float}, func(w *table.Writer, col int, r *frontRow) {
			w.Float(col, r.score.Closest.TravelMM)
		}),
		contact(table.Column{Name: "clearance_steer_deg", Unit: "deg", Doc: "steering angle at which clearance_mm occurs, positive to the left; 0 for parts that steer together", Kind: table.Float}, func(w *table.Writer, col int, r *frontRow) {
			w.Float(col, r.score.Closest.SteerDeg)
		}),
	}
}

func contact(column table.Column, set func(*table.Writer, int, *frontRow)) frontField {
	column.Optional, column.Source = true, "contact"
	return frontField{column, func(w *table.Writer, col int, r *frontRow) {
		if r.score.Closest.Pair == "" {
			w.Null(col)
			return
		}
		set(w, col, r)
	}}
}
