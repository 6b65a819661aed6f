package job

import "slices"

// sorted is the list in order, for messages that must not depend on a map.
func sorted(list []string) []string {
	slices.Sort(list)
	return list
}

// sortedKeys lists a map's keys in order.
func sortedKeys[T any](m map[string]T) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	return sorted(keys)
}
