package statics

import (
	"forkfront/kinematics"
	"forkfront/kinematics/plane"
)

// Planar are the forces in one side of a fork under a load in its plane.
type Planar[T kinematics.Scalar] struct {
	Internal []Internal[T]  // by member
	Pins     []plane.Vec[T] // by joint, on the body that turns on the pivot's shaft, N
	Passes   []plane.Vec[T] // by shaft that crosses the mid-plane: on this side, there, N; not found by Take, nor is Couple
	Push     T              // of the shock, N
	Couple   plane.Vec[T]   // by a shock beside the mid-plane on its lower eye, about the origin, out of the plane, N·mm
}

// Take takes over the share of one side in the forces that a solver found last, with the push of the shock that it returned.
// shaftBodies are the bodies of each joint: that of the pivot's shaft, and the one that turns on it.
func (f *Planar[T]) Take(st *Solver[T], sd *Placed[T], shaftBodies [][2]int, push, share T) {
	f.Internal, f.Pins, f.Push = plane.Resize(f.Internal, len(st.path.Members)), plane.Resize(f.Pins, len(st.Pins)), push*share
	st.accumulate()
	for i := range f.Internal {
		l, mb := st.nodes[i], &st.path.Members[i]
		f.Internal[i] = Internal[T]{
			Axial: l.Force.Dot(sd.Along[i]) * share,
			Start: l.About(sd.Places[mb.From]) * share, End: l.About(sd.Places[mb.To]) * share,
		}
	}
	st.OnTurningBodies(shaftBodies)
	for j := range f.Pins {
		f.Pins[j] = st.Pins[j].Force.Times(share)
	}
}
