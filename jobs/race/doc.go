// Package race decides which cases of a job go on from round to round: successive halving, the survivors chosen by what their
// fronts cover together. It knows cases by their names and points in objectives that are minimised, and works with whole
// numbers once fronts have become sets of sample points, so that no order of cases or workers can matter.
package race
