package document

// Twice notes entries of a list with an equal value at key, or equal themselves where key is empty.
func Twice(s *Source, list, key string, n int, value func(int) any) {
	seen := map[any]int{}
	for i := range n {
		v := value(i)
		first, again := seen[v]
		if !again {
			seen[v] = i
		} else if path := Join(Item(list, i), key); key == "" {
			s.At(Item(list, i), "%v; already listed as %s", v, Item(list, first))
		} else if s.Has(path) || list == "bikes" {
			s.At(path, "%q; already used by %s, and each needs its own", v, Item(list, first))
		}
	}
}
