/** Adds up the reports of vitest's runs; a skipped test counts as a failure. Prints the closing line. */
import { readFileSync } from 'node:fs';

let [passed, failed, skipped] = [0, 0, 0];
for (const path of process.argv.slice(2)) {
  const report = JSON.parse(readFileSync(path, 'utf8'));
  passed += report.numPassedTests;
  failed += report.numFailedTests + report.numFailedTestSuites * (report.numFailedTests === 0 ? 1 : 0);
  skipped += report.numPendingTests + report.numTodoTests;
}
console.log(`${passed} passed, ${failed} failed, ${skipped} skipped`);
process.exitCode = failed + skipped > 0 || passed === 0 ? 1 : 0;
