// Package tuning finds coil, preload and damper settings for the fork of a concept: what the quarter model asks for of what is on
// sale, and what does best in events. It does not change the fork.
package tuning
