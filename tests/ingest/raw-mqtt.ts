/** MQTT 3.1.1 packets by hand (section 2.2 and 3.1 to 3.4), to send many at once and see the very order of what comes back. */

function remainingLength(length: number): Buffer {
  const bytes: number[] = [];
  let left = length;
  do {
    const digit = left % 128;
    left = Math.floor(left / 128);
    bytes.push(left > 0 ? digit | 0x80 : digit);
  } while (left > 0);
  return Buffer.from(bytes);
}

function text(value: string): Buffer {
  const bytes = Buffer.from(value);
  const length = Buffer.alloc(2);
  length.writeUInt16BE(bytes.length);
  return Buffer.concat([length, bytes]);
}

export function connectPacket(clientId: string, user: string, password: string): Buffer {
  // Flags: user, password, clean session; keepalive 0.
  const body = Buffer.concat([
    text("MQTT"),
    Buffer.from([4, 0xc2, 0, 0]),
    text(clientId),
    text(user),
    text(password),
  ]);
  return Buffer.concat([Buffer.from([0x10]), remainingLength(body.length), body]);
}

export const publishPacket = (topic: string, payload: string, messageId: number): Buffer =>
  publishBytes(topic, Buffer.from(payload), messageId);

export function publishBytes(topic: string, payload: Buffer, messageId: number): Buffer {
  const id = Buffer.alloc(2);
  id.writeUInt16BE(messageId);
  const body = Buffer.concat([text(topic), id, payload]);
  return Buffer.concat([Buffer.from([0x32]), remainingLength(body.length), body]);
}

/** Reads CONNACKs and PUBACKs, the only packets a publisher is sent; both are four bytes. */
export function answerReader(
  onAnswer: (kind: "connack" | "puback", id: number) => void,
): (chunk: Buffer) => void {
  let left: Buffer = Buffer.alloc(0);
  return (chunk) => {
    left = left.length === 0 ? chunk : Buffer.concat([left, chunk]);
    let at = 0;
    for (; at + 4 <= left.length; at += 4)
      onAnswer(left[at] === 0x20 ? "connack" : "puback", left.readUInt16BE(at + 2));
    left = left.subarray(at);
  };
}
