package dev.lengthwise.architecture;

import dev.lengthwise.testing.Arrows;
import dev.lengthwise.testing.Slow;
import org.junit.jupiter.api.Test;

/** Holds the arrows between the packages of this module, the lowest first. */
@Slow
class ArrowsTest {

  private static final Arrows ARROWS =
      Arrows.of(
          """
          name:
          cancel:
          work: cancel
          device:
          file:
          stream: file work
          logic:
          logic.function:
          logic.words: logic.function
          logic.support: logic.function logic.words work
          logic.covering: work
          logic.twolevel: logic.covering logic.function logic.words work
          logic.bank: logic.function logic.support logic.twolevel logic.words work
          logic.column: logic.function work
          logic.network: logic logic.function logic.words work
          logic.decompose: logic.function logic.network work
          logic.diagram: logic.function work
          logic.sat: work
          logic.exact: logic.function logic.sat logic.words
          logic.gates: logic logic.diagram logic.function logic.network logic.sat logic.words work
          logic.rewrite: logic.exact logic.function logic.network logic.sat logic.words work
          logic.map: logic logic.decompose logic.function logic.gates logic.network logic.rewrite work
          logic.proof: logic.function logic.network logic.sat logic.words work
          table: name
          circuit: name
          circuit.simulate: circuit
          circuit.text: circuit name
          circuit.translated:
          predecode: name table
          predecode.row: predecode table work
          golden: predecode predecode.row table
          isa: cancel predecode table
          isa.set: isa predecode table
          cache: device golden name predecode table
          lane.function: predecode predecode.row table work
          lane.network: lane.function logic logic.diagram logic.function logic.network logic.rewrite logic.words work
          lane.encode: lane.function lane.network logic logic.exact logic.function logic.map logic.network logic.sat work
          lane.compose: lane.function lane.network logic.function logic.map logic.network logic.support
          lane: lane.compose lane.encode lane.function lane.network logic logic.function logic.map logic.network logic.support work
          lane.support: logic.function logic.support predecode predecode.row
          realize.cells: cache circuit lane.network logic.function logic.network name predecode predecode.row table
          realize.cost: device
          realize.fetch: cache circuit predecode realize.cells table
          realize.gates: circuit lane.function lane.network logic logic.function logic.gates logic.network logic.rewrite realize.cost work
          realize.lane: circuit lane.function lane.network logic.bank logic.column logic.function logic.map logic.network name predecode predecode.row realize.cells table
          realize.marks: circuit predecode realize.cells table
          realize.row: circuit lane.function lane.network logic.network name predecode realize.cells realize.lane realize.marks table
          realize.style: lane lane.function lane.network logic logic.map logic.network predecode predecode.row realize.gates realize.lane realize.marks realize.row table work
          realize: cache circuit device file lane.function lane.network lane.support logic logic.function logic.gates logic.map logic.network predecode predecode.row realize.cells realize.cost realize.fetch realize.gates realize.lane realize.marks realize.row realize.style table work
          study.item: golden predecode table
          study.accuracy: golden predecode stream study.item table work
          study.fetch: cache table
          study.make: device table work
          study.workload: golden predecode stream study.accuracy study.fetch study.item study.make table work
          study.advice: golden name predecode predecode.row realize realize.cost stream study.accuracy study.workload table work
          study.sweep: cache device file logic name predecode realize realize.cost study.accuracy study.fetch study.make study.workload table work
          report: cache circuit device file predecode realize realize.cost study.accuracy study.fetch study.sweep
          """,
          "cancel",
          "name",
          "work",
          "device",
          "file",
          "stream",
          "logic",
          "table",
          "circuit",
          "golden",
          "isa",
          "predecode",
          "cache",
          "lane",
          "realize",
          "study",
          "report");

  @Test
  void methods_takeFiveArgumentsAtMost() {
    ARROWS.checkArguments(5);
  }

  @Test
  void packages_useWhatIsNamedAndNothingElse() {
    ARROWS.check();
  }
}
