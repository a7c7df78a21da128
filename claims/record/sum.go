package record

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"strconv"
	"strings"
)

// sum is a hash of what the tree says: its scalars with their paths, in the order of the
// paths.
func (n *node) sum() string {
	var leaves []string
	n.leaves("", &leaves)
	slices.Sort(leaves)
	hash := sha256.New()
	for _, l := range leaves {
		hash.Write([]byte(l))
	}
	return hex.EncodeToString(hash.Sum(nil)[:8])
}

func (n *node) leaves(path string, into *[]string) {
	switch n.kind {
	case list:
		for i, item := range n.items {
			item.leaves(path+"["+strconv.Itoa(i)+"]", into)
		}
	case mapping:
		for i, key := range n.keys {
			n.items[i].leaves(path+"."+strings.ReplaceAll(key.text, ".", "\x00"), into)
		}
	default:
		*into = append(*into, path+"\x00"+n.text+"\n")
	}
}
