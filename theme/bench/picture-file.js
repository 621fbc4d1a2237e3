// @ts-check
/* What the first bytes of a picture say, before anything is decoded: pure. A size is believed only to refuse what is too large. */
((/** @type {any} */ tm) => {
  "use strict";
  /** Megapixels and pixels of a side that are opened at most; a decoded pixel takes four bytes, several times over. */
  const MOST = 120;
  const SIDE = 32000;

  /** @typedef {{ width: number, height: number, end: boolean, moves?: boolean, inks?: boolean, turned?: boolean, unread?: boolean }} Head `end`: the file is whole as far as can be told. */
  const text = (/** @type {Uint8Array} */ b, /** @type {number} */ at, /** @type {number} */ n) => String.fromCharCode(...b.subarray(at, at + n));
  /** A number of n bytes, largest first. @type {(b: Uint8Array, at: number, n: number) => number} */
  const big = (b, at, n) => (n ? big(b, at, n - 1) * 256 + (b[at + n - 1] ?? 0) : 0);
  /** @type {typeof big} */
  const small = (b, at, n) => (n ? small(b, at + 1, n - 1) * 256 + (b[at] ?? 0) : 0);

  /** Segments up to the picture itself; then its end mark, which its coded data cannot hold. @param {Uint8Array} b @returns {Head} */
  function jpeg(b) {
    /** @type {Head} */
    const head = { width: 0, height: 0, end: false };
    let at = 2;
    while (at + 4 <= b.length && b[at] === 0xff) {
      const mark = b[at + 1];
      const long = big(b, at + 2, 2);
      if (mark === 0xff) {
        at += 1;
        continue;
      }
      if (mark >= 0xc0 && mark <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(mark)) {
        Object.assign(head, { height: big(b, at + 5, 2), width: big(b, at + 7, 2), inks: b[at + 9] === 4 });
      } else if (mark === 0xe1 && text(b, at + 4, 4) === "Exif") head.turned = turn(b.subarray(at + 10, at + 2 + long)) > 1;
      at += 2 + long;
      if (mark === 0xda) {
        let last = b.length;
        do last = b.lastIndexOf(0xd9, last - 1);
        while (last > at && b[last - 1] !== 0xff);
        head.end = last > at;
        break;
      }
    }
    return head;
  }

  /** The camera's note of rotation in Exif data, 1 if none. @param {Uint8Array} b */
  function turn(b) {
    const read = text(b, 0, 2) === "II" ? small : big;
    const first = read(b, 4, 4);
    for (let i = 0, n = read(b, first, 2); i < n && first + 14 + i * 12 <= b.length; i++) {
      if (read(b, first + 2 + i * 12, 2) === 0x112) return read(b, first + 10 + i * 12, 2);
    }
    return 1;
  }

  /** @param {Uint8Array} b @returns {Head} */
  function png(b) {
    const head = { width: big(b, 16, 4), height: big(b, 20, 4), end: false, moves: false };
    for (let at = 8; at + 12 <= b.length && !head.end; at += 12 + big(b, at, 4)) {
      const name = text(b, at + 4, 4);
      if (name === "acTL") head.moves = big(b, at + 8, 4) > 1;
      head.end = name === "IEND";
    }
    return head;
  }

  /** @param {Uint8Array} b @returns {Head} */
  function gif(b) {
    let at = 13 + (b[10] & 128 ? 6 << (b[10] & 7) : 0);
    let frames = 0;
    const skip = () => {
      while (b[at]) at += b[at] + 1;
      at += 1;
    };
    while (at < b.length && b[at] !== 0x3b) {
      if (b[at] === 0x2c) {
        frames += 1;
        at += 11 + (b[at + 9] & 128 ? 6 << (b[at + 9] & 7) : 0);
        skip();
      } else if (b[at] === 0x21) {
        at += 2;
        skip();
      } else break;
    }
    return { width: small(b, 6, 2), height: small(b, 8, 2), end: b[at] === 0x3b && frames > 0, moves: frames > 1 };
  }

  /** @param {Uint8Array} b @returns {Head} */
  function webp(b) {
    const end = b.length >= 8 + small(b, 4, 4);
    const kind = text(b, 12, 4);
    if (kind === "VP8X") return { width: 1 + small(b, 24, 3), height: 1 + small(b, 27, 3), end, moves: Boolean(b[20] & 2) };
    if (kind === "VP8L") return { width: 1 + (small(b, 21, 2) & 0x3fff), height: 1 + ((small(b, 21, 4) >>> 14) & 0x3fff), end };
    return { width: small(b, 26, 2) & 0x3fff, height: small(b, 28, 2) & 0x3fff, end };
  }

  /** The largest size that any part of it states. @param {Uint8Array} b @returns {Head} */
  function avif(b) {
    const head = { width: 0, height: 0, end: true, moves: text(b, 8, 4) === "avis" };
    const start = text(b, 0, Math.min(b.length, 8192));
    for (let at = start.indexOf("ispe"); at >= 0; at = start.indexOf("ispe", at + 4)) {
      head.width = Math.max(head.width, big(b, at + 8, 4));
      head.height = Math.max(head.height, big(b, at + 12, 4));
    }
    return head;
  }

  /** @type {[string, string, string, (b: Uint8Array) => boolean, ((b: Uint8Array) => Head) | null][]} Name, MIME type, endings, how to tell, how to read; null: browsers cannot show it. */
  const KINDS = [
    ["JPEG", "image/jpeg", "jpg jpeg jpe jfif", (b) => big(b, 0, 3) === 0xffd8ff, jpeg],
    ["PNG", "image/png", "png apng", (b) => text(b, 0, 8) === "\x89PNG\r\n\x1a\n", png],
    ["GIF", "image/gif", "gif", (b) => /^GIF8[79]a/.test(text(b, 0, 6)), gif],
    ["WebP", "image/webp", "webp", (b) => text(b, 0, 4) === "RIFF" && text(b, 8, 4) === "WEBP", webp],
    ["AVIF", "image/avif", "avif", (b) => /^ftypavi[fs]/.test(text(b, 4, 8)), avif],
    ["BMP", "image/bmp", "bmp dib", (b) => text(b, 0, 2) === "BM" && big(b, 6, 4) === 0, (b) => ({ width: small(b, 18, 4), height: Math.abs(small(b, 22, 4) | 0), end: b.length >= small(b, 2, 4) })],
    ["HEIC", "", "heic heif", (b) => /^ftyp(hei|hev|mif|msf)/.test(text(b, 4, 7)), null],
    ["TIFF or a camera's raw file", "", "tif tiff", (b) => /^(II\*\0|MM\0\*)/.test(text(b, 0, 4)), null],
    ["PDF", "", "pdf", (b) => text(b, 0, 5) === "%PDF-", null],
  ];

  /** @param {Uint8Array} bytes @param {string} name @returns {PictureFacts & { moves: boolean }} */
  tm.sniff = (bytes, name) => {
    const facts = { trouble: "", type: "", mime: "", width: 0, height: 0, moves: false, notes: /** @type {string[]} */ ([]) };
    const no = (/** @type {string} */ why) => ({ ...facts, trouble: `“${name}” ${why}` });
    if (!bytes.length) return no("is empty.");
    const kind = KINDS.find((one) => one[3](bytes));
    if (!kind) return no("is no picture that can be opened here. JPEG, PNG, WebP, AVIF, GIF and BMP can.");
    const [type, mime, endings, , read] = kind;
    if (!read) return no(`is ${type}, which browsers do not show. Save it as JPEG or PNG, full size, and open that.`);
    const head = read(bytes);
    const { width, height, moves } = head;
    Object.assign(facts, { type, mime, width, height, moves: moves ?? false });
    const ending = /\.([^.]+)$/.exec(name.toLowerCase())?.[1] ?? "";
    if (ending && !endings.split(" ").includes(ending)) facts.notes.push(`Named .${ending}, but it is a ${type}; opened as what it is.`);
    if (width * height > MOST * 1e6 || width > SIDE || height > SIDE) {
      return no(`is ${width} × ${height} pixels, ${Math.round((width * height) / 1e6)} megapixels. At most ${MOST} megapixels and ${SIDE} pixels a side are opened: save a smaller copy.`);
    }
    if (!head.end) return no(`breaks off: the end of the ${type} is missing. Copy it again from the camera.`);
    if (!width || !height) return no(`says that it is ${width} × ${height} pixels. It is damaged.`);
    if (moves) facts.notes.push("It moves; its first frame is shown.");
    if (head.inks) facts.notes.push("It is in printing inks (CMYK): its colours may be off, its places are right.");
    if (head.turned) {
      facts.notes.push("The camera noted a rotation; it is shown turned, and measured as shown.");
    }
    return facts;
  };
})((window.Tellmark ??= {}));
