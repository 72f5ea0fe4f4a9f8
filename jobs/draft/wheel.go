package draft

import (
	"fmt"
	"regexp"
	"strconv"
)

// Wheel is a wheel with its tyre, in mm.
type Wheel struct {
	RadiusMM, TyreWidthMM float64
	Given                 string // as it was stated
}

// tyreWidthMM is assumed where only a diameter is given.
const tyreWidthMM = 50

var (
	designation = regexp.MustCompile(`^(\d{2,3})-(\d{3})$`)
	diameter    = regexp.MustCompile(`^\d+(\.\d+)?$`)
)

// ParseWheel reads the size of a tyre as ISO 5775 writes it, width-bead seat diameter in mm (61-406), or the outside
// diameter of the wheel with its tyre in mm (528). By the designation, the tyre is as high as it is wide.
func ParseWheel(text string) (w Wheel, err error) {
	w.Given = text
	if p := designation.FindStringSubmatch(text); p != nil {
		width, _ := strconv.ParseFloat(p[1], 64)
		seat, _ := strconv.ParseFloat(p[2], 64)
		w.RadiusMM, w.TyreWidthMM = seat/2+width, width
	} else if diameter.MatchString(text) {
		d, _ := strconv.ParseFloat(text, 64)
		w.RadiusMM, w.TyreWidthMM = d/2, tyreWidthMM
	}
	if w.RadiusMM < 150 || w.RadiusMM > 500 {
		return w, fmt.Errorf("%q; expected the size on the tyre by ISO 5775, such as 61-406, or the outside diameter of the wheel from 300 to 1000 mm, such as 528", text)
	}
	return w, nil
}

// widthFrom tells where the width of the tyre comes from.
func (w *Wheel) widthFrom() string {
	if designation.MatchString(w.Given) {
		return "from " + w.Given
	}
	return "assumed"
}
