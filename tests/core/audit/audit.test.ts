import fc from "fast-check";
import { expect, test } from "vitest";
import { canonicalJson } from "#core/audit/audit.ts";

test("the example of RFC 8785 section 3.2.2 has the text of section 3.2.3", () => {
  const example = {
    numbers: [Number("333333333.33333329"), 1e30, 4.5, 2e-3, 0.000000000000000000000000001],
    string: "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"/",
    literals: [null, true, false],
  };
  expect(canonicalJson(example)).toBe(
    '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}',
  );
});

test("the same record has the same text whatever the order of its keys, and reads back as itself", () => {
  fc.assert(
    fc.property(fc.dictionary(fc.string(), fc.jsonValue()), (record) => {
      const turned = Object.fromEntries(Object.entries(record).reverse());
      expect(canonicalJson(turned)).toBe(canonicalJson(record));
      expect(JSON.parse(canonicalJson(record))).toEqual(JSON.parse(JSON.stringify(record)));
    }),
  );
});
