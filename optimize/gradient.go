package optimize

// gradientStage is when and how gradients are used.
type gradientStage struct{ used int }

func (g *gradientStage) due(*engine) bool { return false }

func (g *gradientStage) burst(*engine) error { return nil }
