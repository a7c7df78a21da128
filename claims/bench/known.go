package bench

// LoopOnly reports whether the loop alone is known.
func (r *Result) LoopOnly() bool { return r.VBUS == nil && r.Ground == nil && r.Loop != nil }

// Unsensed is the conductor that is not known while the other one is; zero where there is
// none such.
func (r *Result) Unsensed() Conductor {
	switch {
	case r.VBUS == nil && r.Ground != nil:
		return VBUS
	case r.Ground == nil && r.VBUS != nil:
		return Ground
	}
	return 0
}
