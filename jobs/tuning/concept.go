package tuning

import (
	"forkfront/jobs/files"
	"forkfront/jobs/files/sections"
)

// Concept is the concept with the setting: the preload and the sag at which its coil is the one on sale, and what the damper is
// set to. strokeMM is that of its shock, which a file may leave out.
func (s *Tried) Concept(from *files.ConceptFile, strokeMM float64) *files.ConceptFile {
	c := *from
	c.SagPct = s.SagPct
	shock := sections.Shock{Count: 1, StrokeMM: strokeMM, ShockProperties: sections.ShockProperties{Spring: "coil"}}
	if c.Shock != nil {
		shock = *c.Shock
	}
	if !s.Air {
		shock.PreloadMM = s.PreloadMM
	}
	c.Shock = &shock
	c.Damper = &sections.DamperSetting{Name: s.Damper, CompressionNSPerM: s.CompressionNS, ReboundNSPerM: s.ReboundNS}
	return &c
}
