package spacing

// Entry is a point, by its number, and the key by which it comes up.
type Entry struct {
	Key   float64
	Index int
}

// Queue is a heap for container/heap: the smallest key first, equal ones by the point's number.
type Queue []Entry

func (q Queue) Len() int { return len(q) }

func (q Queue) Less(i, j int) bool {
	if q[i].Key != q[j].Key {
		return q[i].Key < q[j].Key
	}
	return q[i].Index < q[j].Index
}

func (q Queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }

// Push appends an Entry.
func (q *Queue) Push(e any) { *q = append(*q, e.(Entry)) }

// Pop removes the last Entry.
func (q *Queue) Pop() any {
	last := len(*q) - 1
	e := (*q)[last]
	*q = (*q)[:last]
	return e
}
