import { expect, test } from "vitest";
import { lookAtFile } from "#services/importing/look-at-file.ts";
import { actorWith } from "../world.ts";

const look = (text: string, more: object = {}) => lookAtFile(actorWith("curator", "c"), { text, ...more });

test("the delimiter is the one that divides the heading too: a decimal comma divides only the rows", () => {
  expect(look("Zeit;Temp;pH\r\n01.02.2024 10:00;59,1;8,1\r\n01.02.2024 10:10;59,2;8,1\r\n")).toMatchObject({
    delimiter: ";",
    header: ["Zeit", "Temp", "pH"],
    times: [{ column: "Zeit", format: null }],
  });
  expect(look("t,temp\n2024-01-31 10:00,15.2\n")).toMatchObject({
    delimiter: ",",
    times: [{ column: "t", format: "iso" }],
  });
  expect(look("a\tb\n1\t2\n").delimiter).toBe("\t");
  expect(look("just words\n").delimiter).toBeNull();
});

test("day and month are told apart only where a date can be read one way", () => {
  expect(look("date,v\n25/12/2024 10:00,1\n").times).toEqual([{ column: "date", format: "dmy" }]);
  expect(look("date,v\n12/25/2024 10:00,1\n").times).toEqual([{ column: "date", format: "mdy" }]);
  expect(look("date,v\n03/04/2024 10:00,1\n").times).toEqual([{ column: "date", format: null }]);
  expect(look("time,v\n1711893900,1\n").times).toEqual([{ column: "time", format: "epoch_s" }]);
  expect(look("serial,v\n1711893900,1\n").times).toEqual([]);
});

test("what a person has chosen is taken as it is, and lines above the heading are left out", () => {
  const seen = look("Logger 7\n\nt|v\n2024-01-01 10:00|1\n", { delimiter: "|", headingLine: 3 });
  expect(seen).toMatchObject({ delimiter: "|", header: ["t", "v"], rows: [["2024-01-01 10:00", "1"]] });
});

test("somebody who may import nowhere is refused", () => {
  expect(() => lookAtFile(actorWith("technician", "t"), { text: "a" })).toThrow(/may not import/);
});
