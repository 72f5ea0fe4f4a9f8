// Package spacing spreads points evenly: their scales and distances, thinning by distance, reference directions.
package spacing
