/**
 * What a design costs, as values that users and tables read.
 *
 * <p>Start at {@link dev.lengthwise.realize.cost.LaneCost}; {@link
 * dev.lengthwise.realize.cost.FetchPath} is a path from register to register, stage by stage.
 */
package dev.lengthwise.realize.cost;
