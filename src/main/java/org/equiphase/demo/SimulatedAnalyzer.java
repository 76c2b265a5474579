package org.equiphase.demo;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import org.equiphase.rf.Complex;

/**
 * An invented network analyzer on a socket of this machine. It speaks the commands of IEEE 488.2
 * and SCPI-99 that a capture needs, and measures what is connected to it.
 */
public final class SimulatedAnalyzer implements AutoCloseable {

  private static final int LONGEST_LINE = 4096;

  private final ServerSocket server;
  private final Delivery delivery;
  private final SimulatedAnalyzerCommands commands = new SimulatedAnalyzerCommands();
  private final Set<Socket> connections = ConcurrentHashMap.newKeySet();

  private SimulatedAnalyzer(ServerSocket server, Delivery delivery) {
    this.server = server;
    this.delivery = delivery;
  }

  /** What is between its ports. */
  @FunctionalInterface
  public interface Device {
    /** The value of a parameter such as S21. */
    Complex measured(String parameter, double frequencyHz);
  }

  /** How an answer goes out; a fault of the line or the instrument lives here. */
  @FunctionalInterface
  public interface Delivery {
    void deliver(String message, byte[] answer, Socket socket)
        throws IOException, InterruptedException;
  }

  /** One that works. */
  public static SimulatedAnalyzer start(int port) throws IOException {
    return start(port, (message, answer, socket) -> socket.getOutputStream().write(answer));
  }

  /** One whose answers go out in another way; port 0 takes any that is free. */
  public static SimulatedAnalyzer start(int port, Delivery delivery) throws IOException {
    ServerSocket server = new ServerSocket();
    try {
      server.bind(new InetSocketAddress(InetAddress.getLoopbackAddress(), port));
    } catch (IOException e) {
      server.close();
      throw e;
    }
    SimulatedAnalyzer analyzer = new SimulatedAnalyzer(server, delivery);
    analyzer.inBackground(analyzer::accept);
    return analyzer;
  }

  public int port() {
    return server.getLocalPort();
  }

  /** Puts a device between its ports and sets its sweep, as a person would. */
  public void connect(Device device, double startHz, double stopHz, int points) {
    commands.connect(device, startHz, stopHz, points);
  }

  /** Puts an error into its queue, such as −310 for a fault inside. */
  public void report(int error) {
    commands.report(error);
  }

  /** How many programs hold a connection to it. */
  public int connections() {
    return connections.size();
  }

  private void accept() {
    while (!server.isClosed()) {
      try {
        Socket socket = server.accept();
        connections.add(socket);
        inBackground(() -> serve(socket));
      } catch (IOException e) {
        if (!server.isClosed()) {
          throw new UncheckedIOException(e);
        }
      }
    }
  }

  private void serve(Socket socket) {
    try (socket) {
      socket.setTcpNoDelay(true);
      InputStream in = socket.getInputStream();
      ByteArrayOutputStream line = new ByteArrayOutputStream();
      for (int value = in.read(); value >= 0 && line.size() < LONGEST_LINE; value = in.read()) {
        if (value != '\n') {
          line.write(value);
          continue;
        }
        String message = line.toString(StandardCharsets.US_ASCII).strip();
        line.reset();
        byte[] answer = commands.answer(message);
        if (answer.length > 0) {
          delivery.deliver(message, answer, socket);
        }
      }
    } catch (IOException e) {
      // The other side is gone, as happens to instruments.
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    } finally {
      connections.remove(socket);
    }
  }

  private void inBackground(Runnable work) {
    Thread thread = new Thread(work, "simulated-analyzer-" + port());
    thread.setDaemon(true);
    thread.start();
  }

  @Override
  public void close() {
    try {
      server.close();
      for (Socket socket : connections) {
        socket.close();
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
