// Package typec reads what Linux shows of a machine's USB Type-C ports, the
// cables in them and the answers of the cables' markers.
//
// [Read] takes the class directory, /sys/class/typec, as an [fs.FS]: this
// machine's own through os.DirFS, a copied tree, or one made for a test. A
// [Port] may have a [Cable] and a [Partner]; [Cable.Messages] turns what the
// kernel shows of the marker's answers into messages that package vdo decodes.
//
//	ports, err := typec.Read(os.DirFS("/sys/class/typec"))
//	for _, p := range ports {
//		if p.Cable == nil {
//			continue
//		}
//		for _, m := range p.Cable.Messages() {
//			reply := vdo.Decode(m.Words, m.Context())
//			fmt.Println(p.Name, m.Plug, reply.Words())
//		}
//	}
//
// The kernel shows the words of the answers, not the messages. It leaves out the
// message header and the VDM header, so the structured version a marker answered
// in is not known; the attribute usb_power_delivery_revision stands in for it,
// and every message says so in its remarks.
//
// Nothing that is wrong with one attribute, plug or port hides another. What was
// wrong is in the Problems of the port or the cable.
//
// Source of the names, values and places of the attributes: the kernel's ABI
// documents sysfs-class-typec (testing and obsolete) and sysfs-bus-typec, and
// driver-api/usb/typec, all of Linux 6.12. What the documents leave open is
// marked at its place as from memory.
package typec
