// Package parts has the parts that forks are made of: tubes, bearings, bushes and shafts, with what they weigh, bear and cost, and the
// rules for choosing their sizes. It knows no fork that they belong to.
package parts
