// Package clearance turns a fork's motion and the radii of its parts into the smallest gaps between them and to
// wheel and frame. It knows no loads, springs or measures.
package clearance
