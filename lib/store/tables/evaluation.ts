import type { Kit } from "../kits/postgres.ts";
import type { AlarmState, FindingKind, Severity } from "../port.ts";

/** What the evaluator works out from the intake; all but alarms and transitions can be rebuilt from it. */
export function defineEvaluation(kit: Kit) {
  const flag = kit.table(
    "flag",
    {
      stream: kit.integer("stream").notNull(),
      at: kit.instant("at").notNull(),
      flag: kit.integer("flag").notNull(),
      /** Reason codes, comma between. */
      reasons: kit.text("reasons").notNull(),
    },
    (t) => [kit.primaryKey({ columns: [t.stream, t.at] })],
  );
  const formula = kit.table("formula", { id: kit.ownNumber("id"), text: kit.text("text").notNull() }, (t) => [
    kit.uniqueIndex("formula_text").on(t.text),
  ]);
  const derived = kit.table(
    "derived",
    {
      stream: kit.integer("stream").notNull(),
      at: kit.instant("at").notNull(),
      value: kit.real("value").notNull(),
      low: kit.real("low"),
      high: kit.real("high"),
      /** The number of its text in `formula`: a row repeats no names of papers. */
      formula: kit.integer("formula").notNull(),
    },
    (t) => [
      kit.primaryKey({ columns: [t.stream, t.at] }),
      kit.check("derived_value_finite", kit.finite(t.value)),
    ],
  );
  const rollup = kit.table(
    "rollup",
    {
      width: kit.integer("width").notNull(),
      stream: kit.integer("stream").notNull(),
      start: kit.instant("start").notNull(),
      n: kit.integer("n").notNull(),
      good: kit.integer("good").notNull(),
      min: kit.real("min"),
      max: kit.real("max"),
      sum: kit.real("sum").notNull(),
      first: kit.real("first"),
      last: kit.real("last"),
    },
    (t) => [
      kit.primaryKey({ columns: [t.width, t.stream, t.start] }),
      kit.check("rollup_sum_finite", kit.finite(t.sum)),
    ],
  );
  const current = kit.table("current", {
    stream: kit.integer("stream").primaryKey(),
    at: kit.instant("at").notNull(),
    value: kit.real("value").notNull(),
    flag: kit.integer("flag").notNull(),
    reasons: kit.text("reasons").notNull(),
    low: kit.real("low"),
    high: kit.real("high"),
    deviation: kit.real("deviation"),
    /** JSON of the edges that were used. */
    band: kit.text("band"),
    rate: kit.real("rate"),
    received: kit.instant("received").notNull(),
    silentAt: kit.instant("silent_at"),
  });
  const finding = kit.table(
    "finding",
    {
      id: kit.text("id").primaryKey(),
      system: kit.text("system").notNull(),
      stream: kit.integer("stream").notNull(),
      quantity: kit.text("quantity").notNull(),
      kind: kit.text("kind").$type<FindingKind>().notNull(),
      rule: kit.text("rule").notNull(),
      severity: kit.text("severity").$type<Severity>().notNull(),
      began: kit.instant("began").notNull(),
      raised: kit.instant("raised").notNull(),
      ended: kit.instant("ended"),
      /** JSON. */
      evidence: kit.text("evidence").notNull(),
      late: kit.yesNo("late").notNull(),
      recordedAt: kit.instant("recorded_at").notNull(),
      supersededAt: kit.instant("superseded_at"),
    },
    (t) => [
      kit.index("finding_stream_began").on(t.stream, t.began),
      kit.index("finding_system_began").on(t.system, t.began),
      kit.index("finding_began").on(t.began),
    ],
  );
  const alarm = kit.table(
    "alarm",
    {
      id: kit.text("id").primaryKey(),
      finding: kit.text("finding").notNull(),
      system: kit.text("system").notNull(),
      stream: kit.integer("stream").notNull(),
      quantity: kit.text("quantity").notNull(),
      kind: kit.text("kind").$type<FindingKind>().notNull(),
      rule: kit.text("rule").notNull(),
      severity: kit.text("severity").$type<Severity>().notNull(),
      state: kit.text("state").$type<AlarmState>().notNull(),
      raised: kit.instant("raised").notNull(),
      cleared: kit.instant("cleared"),
      acknowledged: kit.instant("acknowledged"),
      acknowledgedBy: kit.text("acknowledged_by"),
    },
    (t) => [kit.index("alarm_state").on(t.state, t.raised), kit.index("alarm_raised").on(t.raised)],
  );
  const alarmTransition = kit.table(
    "alarm_transition",
    {
      number: kit.ownNumber("number"),
      alarm: kit.text("alarm").notNull(),
      from: kit.text("from_state").$type<AlarmState>().notNull(),
      to: kit.text("to_state").$type<AlarmState>().notNull(),
      cause: kit.text("cause").notNull(),
      value: kit.real("value"),
      limit: kit.real("limit_value"),
      eventAt: kit.instant("event_at").notNull(),
      at: kit.instant("at").notNull(),
    },
    (t) => [kit.index("alarm_transition_alarm").on(t.alarm)],
  );
  const checkpoint = kit.table(
    "checkpoint",
    {
      system: kit.text("system").notNull(),
      at: kit.instant("at").notNull(),
      /** Text, packed (see packed-text.ts). */
      state: kit.bytes("state").notNull(),
    },
    (t) => [kit.primaryKey({ columns: [t.system, t.at] })],
  );
  const rejudge = kit.table("dirty", {
    system: kit.text("system").primaryKey(),
    from: kit.instant("from_at").notNull(),
  });
  const cursor = kit.table("cursor", {
    name: kit.text("name").primaryKey(),
    seq: kit.instant("seq").notNull(),
    received: kit.instant("received").notNull(),
  });
  const lease = kit.table("lease", {
    name: kit.text("name").primaryKey(),
    holder: kit.text("holder").notNull(),
    epoch: kit.instant("epoch").notNull(),
    expires: kit.instant("expires").notNull(),
  });
  return {
    flag,
    formula,
    derived,
    rollup,
    current,
    finding,
    alarm,
    alarmTransition,
    checkpoint,
    rejudge,
    cursor,
    lease,
  };
}
