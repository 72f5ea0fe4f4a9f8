// Package quarter turns the wheel rate of a fork at sag into how the front of the bike rides: body and wheel as two masses on
// spring, damper and tyre, the damper that they need, and their response to a road. It does not deal with pitch or with travel
// that ends.
package quarter
