package paste

// bufferAt is the address of a port controller's receive buffer (TCPCI, from
// memory): READABLE_BYTE_COUNT, RX_BUF_FRAME_TYPE, then the message.
const bufferAt = 0x30
