package files

// twice notes entries of a list with an equal value at key, or equal themselves where key is empty.
func twice(s *Source, list, key string, n int, value func(int) any) {
	seen := map[any]int{}
	for i := range n {
		v := value(i)
		first, again := seen[v]
		if !again {
			seen[v] = i
		} else if path := join(item(list, i), key); key == "" {
			s.At(item(list, i), "%v; already listed as %s", v, item(list, first))
		} else if s.has(path) || list == "bikes" {
			s.At(path, "%q; already used by %s, and each needs its own", v, item(list, first))
		}
	}
}
