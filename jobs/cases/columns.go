package cases

// Columns of the front from which a candidate's fork is built again. Those of continuous variables are the names
// of the variables.
const (
	ColumnShockAngle  = "shock_angle_rad"     // direction from shock_upper to shock_lower
	ColumnShock       = "shock_size"          // name of the selected shock
	ColumnShockLength = "shock_eye_to_eye_mm" // its length at top-out
	ColumnShockStroke = "shock_stroke_mm"     // its maximum compression
	ColumnMaterial    = "material"            // name of the selected material
)

// ColumnHalfWidth names the column of the half width of a body that is chosen, in mm.
func ColumnHalfWidth(body string) string { return body + "_half_width_mm" }

// ColumnAlong names the column of a point's distance down the steering axis from the crown race seat, in mm.
func ColumnAlong(point string) string { return point + "_along_mm" }

// ColumnAhead names the column of a point's distance ahead of the steering axis, in mm.
func ColumnAhead(point string) string { return point + "_ahead_mm" }
