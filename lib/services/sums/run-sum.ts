import { type SumAnswer, sumRequest } from "#contract/sum-views.ts";
import { answerSum, SUMS, sumNamed } from "#core/sums/index.ts";
import { AppError, invalid } from "../errors.ts";
import { parse } from "../parse.ts";

/** One sum on what was sent; throws AppError "not_found" for an unknown sum and "invalid" with an issue a field. Nothing is stored. */
export function runSum(name: string, body: unknown): SumAnswer {
  const sum = sumNamed(name);
  if (!sum)
    throw new AppError(
      "not_found",
      `There is no sum "${name.slice(0, 80)}". There are ${SUMS.map((each) => each.name).join(", ")}.`,
    );
  const { inputs } = parse(sumRequest, body);
  const found = answerSum(sum, inputs);
  if (!found.ok) throw invalid(found.issues.map((issue) => ({ ...issue, field: `inputs.${issue.field}` })));
  return found.answer;
}
