// Package mechanism turns the scheme of a fork into numbered bodies and joints and the order in which their motion is
// solved, and finds the loads that its joints bear. It knows no coordinates of its own and no travel.
package mechanism
