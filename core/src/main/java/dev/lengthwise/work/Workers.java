package dev.lengthwise.work;

import dev.lengthwise.cancel.CancelledException;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.Executor;
import java.util.concurrent.ForkJoinPool;
import java.util.concurrent.ForkJoinWorkerThread;
import java.util.concurrent.Future;
import java.util.concurrent.FutureTask;
import java.util.concurrent.LinkedBlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.Supplier;

/**
 * Daemon threads of one piece of work, which end with it: {@link #close} interrupts them and waits,
 * so that none goes on behind its back. Parallel streams in a task use the same threads.
 */
public final class Workers implements Executor, AutoCloseable {

  private static final int MILLIS_BETWEEN_INTERRUPTS = 20;

  private final ForkJoinPool pool;
  private final BlockingQueue<Runnable> news = new LinkedBlockingQueue<>();
  private volatile boolean isHeard;

  private Workers(int threads) {
    this.pool = new ForkJoinPool(threads, Worker::new, null, false);
  }

  /** A thread that knows whose it is. */
  private final class Worker extends ForkJoinWorkerThread {

    private Worker(ForkJoinPool pool) {
      super(pool);
      setName("lengthwise-worker-" + getPoolIndex());
    }

    private Workers workers() {
      return Workers.this;
    }
  }

  /**
   * Returns workers.
   *
   * @param threads how many, at least 1
   * @return the workers, to be closed
   */
  public static Workers of(int threads) {
    return new Workers(threads);
  }

  @Override
  public void execute(Runnable task) {
    pool.execute(task);
  }

  /**
   * Starts a task.
   *
   * @param task what to do
   * @param <T> what it returns
   * @return what {@link #result} waits for
   */
  public <T> Future<T> start(Callable<T> task) {
    // A task of the pool's own kind would throw a copy of what the task throws.
    FutureTask<T> future = new FutureTask<>(task);
    pool.execute(future);
    return future;
  }

  /**
   * Waits for a task.
   *
   * @param future the task
   * @param <T> what it returns
   * @return what it returns
   * @throws CancelledException if this thread is interrupted; the task goes on until {@link #close}
   */
  public static <T> T result(Future<T> future) {
    try {
      return future.get();
    } catch (InterruptedException e) {
      throw Work.cancelled(e);
    } catch (ExecutionException e) {
      throw failure(e);
    }
  }

  /**
   * Returns what a task has thrown.
   *
   * @param e says so
   * @return what to throw; an error is thrown here
   */
  public static RuntimeException failure(ExecutionException e) {
    Throwable cause = original(e.getCause());
    if (cause instanceof Error error) {
      throw error;
    }
    return cause instanceof RuntimeException failure
        ? failure
        : new IllegalStateException("work: a task must not fail, found " + cause, e);
  }

  /** A parallel stream throws copies that say the original's type before its message. */
  private static Throwable original(Throwable thrown) {
    Throwable cause = thrown.getCause();
    boolean isCopy =
        cause != null
            && cause.getClass() == thrown.getClass()
            && cause.toString().equals(thrown.getMessage());
    return isCopy ? original(cause) : thrown;
  }

  /** Returns the workers that this thread is one of; null if it is of none that are listened to. */
  static Workers ofThisThread() {
    return Thread.currentThread() instanceof Worker worker && worker.workers().isHeard
        ? worker.workers()
        : null;
  }

  /** Hands over what {@link #listen} does. */
  void tell(Runnable one) {
    news.add(one);
  }

  /**
   * Waits for a task, and meanwhile does what its threads hand over.
   *
   * @param task what to do
   * @param <T> what it returns
   * @return what it returns
   * @throws CancelledException if this thread is interrupted; the task goes on until {@link #close}
   */
  <T> T listen(Supplier<T> task) {
    AtomicBoolean ended = new AtomicBoolean();
    isHeard = true;
    Future<T> future =
        start(
            () -> {
              try {
                return task.get();
              } finally {
                news.add(() -> ended.set(true));
              }
            });
    try {
      while (!ended.get()) {
        news.take().run();
      }
    } catch (InterruptedException e) {
      throw Work.cancelled(e);
    }
    return result(future);
  }

  /** Interrupts what still runs, and waits until it has ended. */
  @Override
  public void close() {
    boolean interrupted = false;
    boolean ended = false;
    while (!ended) {
      // Again and again, as a thread of a pool forgets an interrupt between two tasks.
      pool.shutdownNow();
      try {
        ended = pool.awaitTermination(MILLIS_BETWEEN_INTERRUPTS, TimeUnit.MILLISECONDS);
      } catch (InterruptedException e) {
        interrupted = true;
      }
    }
    if (interrupted) {
      Thread.currentThread().interrupt();
    }
  }
}
