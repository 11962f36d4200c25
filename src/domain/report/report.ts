// The closing report, as data: what was poured, what should be there, what was counted, what is missing and how sure that is.
import type { Verdict } from '../count/variance.ts';
import type { Correctable, LossReason, PourPurpose } from '../ledger/event.ts';
import type { Unit } from '../value/amount.ts';
import type { Drawer, EventId, ItemId, SpecId } from '../value/ids.ts';

export type ReportDrink = {
  readonly spec: SpecId;
  readonly name: string;
  readonly count: number;
  readonly as: Readonly<Partial<Record<PourPurpose, number>>>;
  /** What they were sold for. */
  readonly soldMinor: number;
};

export type Share = { readonly name: string; readonly amount: number };

/** Two nights in a row that cancel: what was missing came back, so a reading was likely wrong. */
export type SlipOfNights = {
  readonly before: number;
  readonly beforeUncertainty: number;
  readonly together: number;
  readonly uncertainty: number;
};

/** What a sealed report would say with what became known later. */
export type Corrected = {
  readonly missing: number;
  readonly missingCostMinor: number | null;
  readonly verdict: Verdict;
  readonly corrections: readonly {
    readonly what: Correctable;
    readonly amount: number;
    readonly why: string;
    readonly by: string | null;
    readonly at: string;
  }[];
};

export type ReportItem = RowFigures & {
  readonly item: ItemId;
  /** What one container holds, in the item's unit. */
  readonly size: number;
  readonly name: string;
  readonly kind: string;
  readonly unit: Unit;
  /** What it is counted in, when that is not its unit: so much of the unit in one, and what one is called. */
  readonly pieces: { readonly size: number; readonly one: string } | null;
  readonly places: readonly string[];
  /** Stretches between earlier counts of the same shift, or since the shift before was sealed. */
  readonly earlier: readonly {
    readonly from: string;
    readonly to: string;
    readonly missing: number;
    readonly uncertainty: number;
    readonly missingCostMinor: number | null;
  }[];
  /** Which drinks drew how much of it, most first; "" stands for straight measures. */
  readonly drawnBy: readonly { readonly spec: Drawer; readonly name: string; readonly amount: number }[];
  /** Who poured how much of it, by name; "" is nobody named. */
  readonly pouredBy: readonly Share[];
  /** Poured other than as sales, and lost: by purpose and by reason. */
  readonly pouredAs: readonly Share[];
  readonly lostTo: readonly Share[];
  /** Counted in this shift for the first time: nothing to compare it with yet. */
  readonly isFirstCount: boolean;
  readonly slip: SlipOfNights | null;
  /** Its last reading was looked at twice. */
  readonly lookedTwice: boolean;
  /** What it costs is known: else it is in no sum. */
  readonly isCosted: boolean;
  /** One of its readings is more than can be there: it touches no sum. */
  readonly improbable: boolean;
  /** Benjamini–Hochberg over what was counted in this report; null when it was not. */
  readonly q: number | null;
  /** What drinks that the till sold and nobody logged would have taken; null without lines of the till. */
  readonly unlogged: number | null;
  readonly corrected: Corrected | null;
};

/** One name of the till beside the tally. */
export type TillRow = {
  readonly drink: string;
  readonly spec: SpecId | null;
  /** `unknown`: a name nobody has matched yet; `not-ours`: matched to nothing we pour by a spec. */
  readonly match: 'spec' | 'straight' | 'unknown' | 'not-ours';
  /** For a straight measure: of what, and how much one is, in its unit. */
  readonly measure: {
    readonly item: ItemId;
    readonly amount: number;
    /** Sold less logged, exact, in the item's unit: sold and logged are to a tenth of a measure. */
    readonly off: number;
  } | null;
  readonly sold: number;
  /** Poured as sales; null where there is no spec. */
  readonly logged: number | null;
  readonly difference: number | null;
};

export type PurposeRow = {
  readonly as: PourPurpose;
  readonly count: number;
  readonly costMinor: number;
};

export type Totals = {
  /** Missing less extra, with its expanded uncertainty: the items' own are independent. */
  readonly missingCostMinor: number;
  readonly missingCostUncertaintyMinor: number;
  /** The same in millilitres, over everything counted in them. */
  readonly missingMl: number;
  readonly missingMlUncertainty: number;
  /** The two apart, both above zero: what is extra of one item makes up for nothing of another. */
  readonly missingAloneMinor: number;
  readonly extraAloneMinor: number;
  readonly pouredCostMinor: number;
  readonly soldMinor: number;
  readonly pourCostPercent: number | null;
  /** Standard: what was sold, at the cost of its specs. Actual: all that left, counted where it was counted. */
  readonly standardCostMinor: number;
  readonly standardPercent: number | null;
  readonly actualCostMinor: number;
  readonly actualPercent: number | null;
  readonly lostCostMinor: number;
  /** Missing less extra of the earlier stretches of the same shift, which stand beside the last ones. */
  readonly earlierCostMinor: number;
  readonly counted: number;
  readonly notCounted: number;
  /** Counted for the first time: no figure yet, and nothing left to do. */
  readonly firstCounted: number;
  /** Items beyond their ±, and how many of those counted would be by chance alone. */
  readonly beyond: number;
  readonly beyondByChance: number;
};

/** One loss: what, how much, why, whose hand wrote it down, and what it was worth. */
export type ReportLoss = {
  readonly item: ItemId;
  readonly name: string;
  readonly unit: Unit;
  readonly pieces: ReportItem['pieces'];
  readonly amount: number;
  /** The same in whole containers, as "1 × 700 ml", where it is some. */
  readonly containers: string | null;
  readonly why: LossReason;
  readonly by: string | null;
  readonly at: string;
  readonly costMinor: number | null;
};

export type Report = {
  readonly house: { readonly name: string; readonly currency: string };
  readonly shift: {
    readonly id: EventId;
    readonly date: string;
    readonly openedAt: string;
    readonly closedAt: string | null;
    readonly sealedBy: string | null;
    readonly status: 'open' | 'sealed';
    /** Only for a stretch of dates: its last date and how many shifts it has. */
    readonly to?: string;
    readonly shifts?: number;
  };
  readonly drinks: readonly ReportDrink[];
  /** Straight measures, what they were sold for, and how much of each item they took. */
  readonly straight: number;
  readonly straightSoldMinor: number;
  readonly straights: readonly { readonly item: ItemId; readonly amount: number }[];
  readonly purposes: readonly PurposeRow[];
  /** Drinks by the hour on the house's wall, in the order of the night. */
  readonly hours: readonly { readonly hour: string; readonly count: number }[];
  readonly items: readonly ReportItem[];
  readonly totals: Totals;
  /** What was lost, worst first. */
  readonly losses: readonly ReportLoss[];
  /** Null until lines of the till were imported. */
  readonly till: readonly TillRow[] | null;
  /** Left out where nothing came, or where the night is open. */
  readonly cameAfter?: CameAfter;
  readonly notes: readonly {
    readonly item: string | null;
    readonly name: string | null;
    readonly text: string;
    readonly by: string | null;
    readonly at: string;
  }[];
};

/** What other stations sent after the seal for a night: beside its figures, never in them. */
export type CameAfter = {
  readonly drinks: number;
  readonly soldMinor: number;
  /** Things of the sealed night that were taken back elsewhere. */
  readonly takenBack: number;
  readonly counts: number;
  /** The same night sealed by a station that did not know of this seal. */
  readonly sealedAgain: readonly { readonly station: string; readonly at: string; readonly seal: string }[];
  /** Deliveries, losses, moves, cards. */
  readonly others: number;
  readonly stations: readonly string[];
  /** What would be missing with all of it, where that differs. */
  readonly items: readonly (Pick<ReportItem, 'item' | 'name' | 'unit' | 'pieces'> & {
    readonly missing: number;
    readonly uncertainty: number;
    readonly missingThen: number;
    readonly uncertaintyThen: number;
    /** Stretches that a count that came after ends: what was missing before it. */
    readonly earlierThen: readonly Pick<
      ReportItem['earlier'][number],
      'from' | 'to' | 'missing' | 'uncertainty'
    >[];
  })[];
};

export type RowFigures = {
  readonly from: string | null;
  readonly to: string | null;
  readonly opening: number;
  readonly received: number;
  readonly movedIn: number;
  readonly movedOut: number;
  readonly poured: number;
  readonly lost: number;
  /** Came in by being made here, and went into what was made. */
  readonly made: number;
  readonly prepped: number;
  readonly expected: number;
  readonly counted: number | null;
  readonly used: number | null;
  readonly missing: number | null;
  /** Expanded, k = 2. */
  readonly uncertainty: number | null;
  readonly missingPercent: number | null;
  readonly missingCostMinor: number | null;
  readonly missingCostUncertaintyMinor: number | null;
  readonly verdict: Verdict;
};

/** The same report without who did what: for paper and pages that nobody asked to name people on. */
export const withoutPeople = (report: Report): Report => ({
  ...report,
  shift: { ...report.shift, sealedBy: null },
  items: report.items.map((row) => ({
    ...row,
    pouredBy: [],
    corrected:
      row.corrected === null
        ? null
        : { ...row.corrected, corrections: row.corrected.corrections.map((one) => ({ ...one, by: null })) },
  })),
  losses: report.losses.map((loss) => ({ ...loss, by: null })),
  notes: report.notes.map((note) => ({ ...note, by: null })),
});
