package spacing

// Entry is a point, by its number, and the key by which it comes up.
type Entry struct {
	Key   float64
	Index int
}

func (e Entry) before(o Entry) bool {
	if e.Key != o.Key {
		return e.Key < o.Key
	}
	return e.Index < o.Index
}

// Queue is a heap: the smallest key first, equal ones by the point's number. container/heap would call every comparison
// through an interface.
type Queue []Entry

// Init makes a heap of entries in any order.
func (q Queue) Init() {
	for i := len(q)/2 - 1; i >= 0; i-- {
		q.sink(i)
	}
}

// Sink puts the first entry, whose key has grown, where it belongs.
func (q Queue) Sink() { q.sink(0) }

// Drop takes out the first entry.
func (q *Queue) Drop() {
	last := len(*q) - 1
	(*q)[0] = (*q)[last]
	*q = (*q)[:last]
	q.sink(0)
}

func (q Queue) sink(i int) {
	if i >= len(q) {
		return
	}
	e := q[i]
	for {
		child := 2*i + 1
		if child >= len(q) {
			break
		}
		if other := child + 1; other < len(q) && q[other].before(q[child]) {
			child = other
		}
		if !q[child].before(e) {
			break
		}
		q[i], i = q[child], child
	}
	q[i] = e
}
